// Ctrl-C while claims are checked: the first asks to stop and tell what is known, the second ends at once.
#pragma once

#include <atomic>
#include <csignal>

namespace detent::cli {

/// While it lives, SIGINT sets the flag; before and afterwards SIGINT does what it did.
class Interrupt {
 public:
  Interrupt();
  Interrupt(const Interrupt&) = delete;
  Interrupt& operator=(const Interrupt&) = delete;
  ~Interrupt();

  [[nodiscard]] const std::atomic<bool>* flag() const;

 private:
  struct sigaction before_ {};
};

}  // namespace detent::cli
