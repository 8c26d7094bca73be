// A thread that waits for the signal, which is blocked everywhere else. A handler would not do: the solver
// puts its own in its place during every question, and the first Ctrl-C would only end that question.
#include "cli/interrupt.hpp"

#include <unistd.h>

#include <cerrno>
#include <ctime>

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

bool is_ignored() {
  struct sigaction action {};
  sigaction(SIGINT, nullptr, &action);
  return action.sa_handler == SIG_IGN;
}

void watch(const std::stop_token& done, std::atomic<bool>& asked) {
  const sigset_t signals = only_interrupt();
  while (!done.stop_requested()) {
    if (sigtimedwait(&signals, nullptr, &between_looks) != SIGINT) continue;
    if (asked.exchange(true)) _exit(ended_by_interrupt);
  }
}

}  // namespace

Interrupt::Interrupt() {
  const sigset_t signals = only_interrupt();
  const bool ignored = is_ignored();
  pthread_sigmask(ignored ? SIG_SETMASK : SIG_BLOCK, ignored ? nullptr : &signals, &before_);
  if (!ignored) watcher_ = std::jthread([this](const std::stop_token& done) { watch(done, asked_); });
}

Interrupt::~Interrupt() {
  if (watcher_.joinable()) {
    watcher_.request_stop();
    watcher_.join();
  }
  pthread_sigmask(SIG_SETMASK, &before_, nullptr);
}

}  // namespace detent::cli
