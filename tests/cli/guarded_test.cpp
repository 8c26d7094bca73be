// What must not happen, and Ctrl-C.
#include "cli/guarded.hpp"

#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <new>
#include <stdexcept>
#include <thread>

#include "cli/interrupt.hpp"
#include "solver/verdict.hpp"
#include "tests/support/catch.hpp"

namespace detent::cli {
namespace {

bool becomes_set(const std::atomic<bool>& flag) {
  for (int i = 0; i < 500 && !flag; ++i) std::this_thread::sleep_for(std::chrono::milliseconds(10));
  return flag;
}

}  // namespace

TEST_CASE("a disagreement with itself is never a verdict") {
  const CommandResult result =
      guarded([]() -> CommandResult { throw solver::InternalDisagreement{"tick 3"}; });
  CHECK(result.status == Status::own_fault);
  CHECK(result.output.empty());
  CHECK(result.errors.find("detent has found a fault in itself: tick 3") == 0);
  CHECK(guarded([]() -> CommandResult { throw std::logic_error("x"); }).status == Status::own_fault);
}

TEST_CASE("no memory left is undecided") {
  const CommandResult result = guarded([]() -> CommandResult { throw std::bad_alloc(); });
  CHECK(result.status == Status::undecided);
  CHECK(result.errors.find("mend:") != std::string::npos);
}

TEST_CASE("the first Ctrl-C sets the flag and is gone afterwards") {
  for (int round = 0; round < 2; ++round) {
    const Interrupt interrupt;
    CHECK_FALSE(*interrupt.flag());
    kill(getpid(), SIGINT);
    CHECK(becomes_set(*interrupt.flag()));
  }
}

TEST_CASE("the second Ctrl-C ends the program at once") {
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    const Interrupt interrupt;
    kill(getpid(), SIGINT);
    if (!becomes_set(*interrupt.flag())) _exit(1);
    kill(getpid(), SIGINT);
    std::this_thread::sleep_for(std::chrono::seconds(5));
    _exit(2);
  }
  int status = 0;
  REQUIRE(waitpid(child, &status, 0) == child);
  REQUIRE(WIFEXITED(status));
  CHECK(WEXITSTATUS(status) == 130);  // 128 + SIGINT: what shells report (common practice, no source)
}

TEST_CASE("an ignored Ctrl-C stays ignored") {
  const auto before = signal(SIGINT, SIG_IGN);
  {
    const Interrupt interrupt;
    kill(getpid(), SIGINT);
    std::this_thread::sleep_for(std::chrono::milliseconds(150));
    CHECK_FALSE(*interrupt.flag());
  }
  signal(SIGINT, before);
}

}  // namespace detent::cli
