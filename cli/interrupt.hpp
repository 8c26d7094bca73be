// Ctrl-C while claims are checked: the first asks to stop and tell what is known, the second ends at once.
// The time allowed for all of it asks as the first does.
#pragma once

#include <atomic>
#include <chrono>
#include <csignal>
#include <optional>
#include <thread>

namespace detent::cli {

/// While it lives, SIGINT sets the flag; before and afterwards SIGINT does what it did. To be made before
/// any other thread is. A SIGINT that was ignored stays ignored. With `total`, the flag is set when so much
/// time has passed, too.
class Interrupt {
 public:
  explicit Interrupt(std::optional<std::chrono::milliseconds> total = {});
  Interrupt(const Interrupt&) = delete;
  Interrupt& operator=(const Interrupt&) = delete;
  ~Interrupt();

  [[nodiscard]] const std::atomic<bool>* flag() const { return &asked_; }

 private:
  std::atomic<bool> asked_{false};
  sigset_t before_{};
  std::jthread watcher_;
};

}  // namespace detent::cli
