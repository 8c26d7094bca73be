// A thread that waits for the signal, which is blocked everywhere else: nothing is interrupted where it
// stands, and the second Ctrl-C ends the program whatever the first is waiting for.
#include "cli/interrupt.hpp"

#include <unistd.h>

#include <cerrno>
#include <ctime>
#include <utility>

namespace detent::cli {
namespace {

constexpr int ended_by_interrupt = 130;  // 128 + SIGINT, as shells report it
/// Whoever ends a check waits for this long at the most.
constexpr timespec between_looks{0, 2'000'000};

sigset_t only_interrupt() {
  sigset_t signals{};
  sigemptyset(&signals);
  sigaddset(&signals, SIGINT);
  return signals;
}

using Clock = std::chrono::steady_clock;

struct Watch {
  bool signals = true;  ///< else only the time
  std::optional<Clock::time_point> deadline = {};
};

void watch(const std::stop_token& done, std::atomic<bool>& asked, const Watch& what) {
  const sigset_t signals = only_interrupt();
  bool by_hand = false;
  while (!done.stop_requested()) {
    if (what.deadline && Clock::now() >= *what.deadline) asked = true;
    if (!what.signals) {
      nanosleep(&between_looks, nullptr);
      continue;
    }
    if (sigtimedwait(&signals, nullptr, &between_looks) != SIGINT) continue;
    asked = true;
    if (std::exchange(by_hand, true)) _exit(ended_by_interrupt);
  }
}

}  // namespace

Interrupt::Interrupt(std::optional<std::chrono::milliseconds> total) {
  const sigset_t signals = only_interrupt();
  struct sigaction action {};
  sigaction(SIGINT, nullptr, &action);
  const bool ignored = action.sa_handler == SIG_IGN;
  pthread_sigmask(ignored ? SIG_SETMASK : SIG_BLOCK, ignored ? nullptr : &signals, &before_);
  Watch what{.signals = !ignored};
  if (total) what.deadline = Clock::now() + *total;
  if (what.signals || what.deadline) {
    watcher_ = std::jthread([this, what](const std::stop_token& done) { watch(done, asked_, what); });
  }
}

Interrupt::~Interrupt() {
  if (watcher_.joinable()) {
    watcher_.request_stop();
    watcher_.join();
  }
  pthread_sigmask(SIG_SETMASK, &before_, nullptr);
}

}  // namespace detent::cli
