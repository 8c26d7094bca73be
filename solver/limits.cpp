// A limit is looked at in two places: between questions by whoever asks them, and during a question by the
// watchman, who can only knock: so he knocks until he is let go.
#include "solver/limits.hpp"

#include <condition_variable>
#include <mutex>
#include <utility>

#include "solver/satisfiability.hpp"

namespace detent::solver {

namespace {

constexpr std::chrono::milliseconds between_looks{5};

}  // namespace

Limits::Limits(std::optional<std::chrono::milliseconds> timeout, std::optional<std::size_t> memory_mib,
               Cancel cancel)
    : start_(Clock::now()), cancel_(std::move(cancel)) {
  if (timeout) deadline_ = start_ + *timeout;
  if (memory_mib) memory_bytes_ = *memory_mib * 1024 * 1024;
}

Limit Limits::reached(std::size_t bytes) const {
  if (cancel_.requested()) return Limit::interrupted;
  if (memory_bytes_ && solver_memory_bytes() + bytes >= *memory_bytes_) out_of_memory_ = true;
  if (out_of_memory_) return Limit::memory;
  if (deadline_ && Clock::now() >= *deadline_) return Limit::time;
  return Limit::none;
}

double Limits::seconds() const {
  return std::chrono::duration<double>(Clock::now() - start_).count();
}

Watchman::Watchman(const Limits& limits, std::function<void()> stop)
    : thread_([&limits, stop = std::move(stop)](const std::stop_token& done) {
        std::mutex mutex;
        std::condition_variable_any let_go;
        std::unique_lock lock(mutex);
        while (!let_go.wait_for(lock, done, between_looks, [&done] { return done.stop_requested(); })) {
          if (limits.reached() != Limit::none) stop();
        }
      }) {}

}  // namespace detent::solver
