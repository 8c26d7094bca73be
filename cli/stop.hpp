// What ends a command's questions before their time. A command that runs others, as the report does, lends
// them its own.
#pragma once

#include <atomic>
#include <chrono>
#include <optional>

#include "cli/interrupt.hpp"

namespace detent::cli {

/// While it lives: the caller's flag, or where there is none its own, which Ctrl-C sets, and the end of the
/// time for all of it.
class Stop {
 public:
  Stop(const std::atomic<bool>* callers, std::optional<std::chrono::milliseconds> total) : flag_(callers) {
    if (flag_ == nullptr) flag_ = own_.emplace(total).flag();
  }
  /// Of a command's settings.
  template <class Settings>
  explicit Stop(const Settings& settings) : Stop(settings.cancel, settings.total_timeout) {}

  [[nodiscard]] const std::atomic<bool>* flag() const { return flag_; }

 private:
  std::optional<Interrupt> own_;
  const std::atomic<bool>* flag_;
};

}  // namespace detent::cli
