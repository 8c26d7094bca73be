// When to stop: the time, the memory and the patience of whoever asked.
#pragma once

#include <atomic>
#include <chrono>
#include <cstddef>
#include <functional>
#include <optional>
#include <thread>

#include "solver/cancel.hpp"
#include "solver/verdict.hpp"

namespace detent::solver {

class Limits {
 public:
  using Clock = std::chrono::steady_clock;

  Limits(std::optional<std::chrono::milliseconds> timeout, std::optional<std::size_t> memory_mib,
         Cancel cancel);

  /// The limit that has been reached by now, or Limit::none. `bytes`: memory in use beside Z3's. Once memory
  /// has been found used up it stays so: whoever asks later, when Z3 has given some back, was stopped by it.
  [[nodiscard]] Limit reached(std::size_t bytes = 0) const;
  [[nodiscard]] double seconds() const;

 private:
  Clock::time_point start_;
  std::optional<Clock::time_point> deadline_;
  std::optional<std::size_t> memory_bytes_;
  Cancel cancel_;
  mutable std::atomic<bool> out_of_memory_{false};
};

/// While it lives, calls `stop` again and again from another thread once a limit has been reached.
class Watchman {
 public:
  Watchman(const Limits& limits, std::function<void()> stop);

 private:
  std::jthread thread_;
};

}  // namespace detent::solver
