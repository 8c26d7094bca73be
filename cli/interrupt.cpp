// A signal handler can reach nothing but what has static storage: this flag is the one such thing in the
// program, and only the handler writes it.
#include "cli/interrupt.hpp"

#include <unistd.h>

namespace detent::cli {
namespace {

std::atomic<bool> interrupted{false};
static_assert(std::atomic<bool>::is_always_lock_free, "the handler may only touch what needs no lock");

constexpr int ended_by_interrupt = 130;  // 128 + SIGINT, as shells report it

extern "C" void on_interrupt(int) {
  if (interrupted.exchange(true)) _exit(ended_by_interrupt);
}

}  // namespace

Interrupt::Interrupt() {
  interrupted = false;
  struct sigaction action {};
  action.sa_handler = on_interrupt;
  action.sa_flags = SA_RESTART;
  sigemptyset(&action.sa_mask);
  sigaction(SIGINT, &action, &before_);
}

Interrupt::~Interrupt() {
  sigaction(SIGINT, &before_, nullptr);
}

const std::atomic<bool>* Interrupt::flag() const {
  return &interrupted;
}

}  // namespace detent::cli
