// Ctrl-C while claims are checked: the first asks to stop and tell what is known, the second ends at once.
#pragma once

#include <atomic>
#include <csignal>
#include <thread>

namespace detent::cli {

/// While it lives, SIGINT sets the flag; before and afterwards SIGINT does what it did. To be made before
/// any other thread is. A SIGINT that was ignored stays ignored.
class Interrupt {
 public:
  Interrupt();
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
