// Whoever asked says stop, and is told how far it has come: by functions of their own. What is right comes
// from the headers; no outside source.
#include "solver/cancel.hpp"

#include <atomic>
#include <chrono>
#include <csignal>
#include <cstddef>
#include <stdexcept>
#include <thread>
#include <vector>

#include "solver/bounded.hpp"
#include "solver/forever.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"
#include "tests/support/pigeons.hpp"
#include "tests/support/shipped.hpp"

using namespace detent;
using namespace detent::test;
using solver::Cancel;
using solver::Limit;
using solver::Outcome;
using std::chrono::milliseconds;

namespace {

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) {
  return std::chrono::duration<double>(Clock::now() - start).count();
}

/// Says stop once so much time has passed.
Cancel after(milliseconds patience) {
  return [until = Clock::now() + patience] { return Clock::now() >= until; };
}

struct Failure : std::runtime_error {
  using std::runtime_error::runtime_error;
};

}  // namespace

TEST_CASE("a wish to stop: none, a flag, or a function that is taken at its word", "[cancel]") {
  CHECK_FALSE(Cancel().requested());
  CHECK_FALSE(Cancel(nullptr).requested());
  std::atomic<bool> flag = false;
  const Cancel by_flag = &flag;
  CHECK_FALSE(by_flag.requested());
  flag = true;
  CHECK(by_flag.requested());

  int asked = 0;
  const Cancel once = [&asked] { return ++asked == 2; };
  const Cancel copy = once;
  CHECK_FALSE(once.requested());
  CHECK(copy.requested());
  CHECK(once.requested());
  CHECK(copy.requested());
  CHECK(asked == 2);

  const Cancel throws = []() -> bool { throw Failure("asked"); };
  CHECK(throws.requested());
}

TEST_CASE("a function stops a hard proof soon, and what is open is undecided", "[cancel]") {
  const dsl::Model model = compiled(pigeons_text(11));
  const auto start = Clock::now();
  SECTION("for all time") {
    const solver::Report report = solver::check_forever(model, {.cancel = after(milliseconds(1500))});
    CHECK(report.verdicts[0].outcome == Outcome::undecided);
    CHECK(report.verdicts[0].limit == Limit::interrupted);
    CHECK_FALSE(report.verdicts[0].proof);
    CHECK(report.verdicts[1].outcome != Outcome::proved);
  }
  SECTION("tick by tick") {
    const solver::Report report =
        solver::check_bounded(model, {.within = 6, .claims = {0}, .cancel = after(milliseconds(1500))});
    CHECK(report.verdicts[0].outcome == Outcome::undecided);
    CHECK(report.verdicts[0].limit == Limit::interrupted);
  }
  // Some tens of milliseconds where nothing else runs: tests/README.md has the figures.
  CHECK(seconds_since(start) < 1.5 + 5);
}

TEST_CASE("stopped at any moment, a check never says what is not so", "[cancel]") {
  const dsl::Model model = shipped_model("boat/flaw_window_kept_alive.detent");
  const solver::Report whole = solver::check_forever(model, {.side_findings = false});
  std::size_t stopped = 0;
  for (const int patience : {0, 1, 2, 5, 10, 20, 40, 80, 160, 320}) {
    INFO("stopped after " << patience << " ms");
    const solver::Report report =
        solver::check_forever(model, {.cancel = after(milliseconds(patience)), .side_findings = false});
    REQUIRE(report.verdicts.size() == whole.verdicts.size());
    for (std::size_t claim = 0; claim < whole.verdicts.size(); ++claim) {
      const solver::Verdict& said = report.verdicts[claim];
      if (said.outcome == Outcome::undecided) {
        CHECK(said.limit == Limit::interrupted);
        ++stopped;
      } else {
        CHECK(said.outcome == whole.verdicts[claim].outcome);
      }
    }
  }
  CHECK(stopped >= whole.verdicts.size());  // at 0 ms nothing is decided
}

TEST_CASE("the questions that are left only grow fewer, and in the end there are none", "[cancel]") {
  for (const char* name : {"arena/weapon.detent", "boat/flaw_window_kept_alive.detent"}) {
    for (const unsigned jobs : {1U, 2U}) {
      std::vector<std::size_t> told;  // one thread at a time tells
      const auto progress = [&told](std::size_t open) { told.push_back(open); };
      const dsl::Model model = shipped_model(name);
      static_cast<void>(solver::check_forever(model, {.progress = progress, .jobs = jobs}));
      REQUIRE(told.size() > 2);
      CHECK(told.front() >= model.claims.size());
      CHECK(told.back() == 0);
      for (std::size_t next = 1; next < told.size(); ++next) CHECK(told[next] < told[next - 1]);
    }
  }
}

TEST_CASE("tick by tick, ticks only grow and open questions only fall, also where some are put aside",
          "[cancel]") {
  // Easy for 60 ticks, so that what is hard then is put aside far from the beginning, where it begins again.
  const dsl::Model model = compiled(pigeons_text(9, "held(true, 60 ticks)"));
  std::vector<solver::Progress> told;
  static_cast<void>(solver::check_bounded(
      model, {.within = 100,
              .timeout = milliseconds(5000),
              .progress = [&told](const solver::Progress& progress) { told.push_back(progress); }}));
  REQUIRE(told.size() > 100);
  CHECK(told.back().ticks_done >= 50);
  for (std::size_t next = 1; next < told.size(); ++next) {
    CHECK(told[next].ticks_done >= told[next - 1].ticks_done);
    CHECK(told[next].claims_open <= told[next - 1].claims_open);
  }
}

TEST_CASE("what a progress function throws ends the check and comes out", "[cancel]") {
  const dsl::Model model = shipped_model("boat/pump_jet.detent");
  const auto fail = [](std::size_t) { throw Failure("told"); };
  CHECK_THROWS_AS(solver::check_forever(model, {.progress = fail}), Failure);
  CHECK_THROWS_AS(solver::check_forever(model, {.progress = fail, .jobs = 2}), Failure);
  CHECK_THROWS_AS(
      solver::check_bounded(model, {.within = 40, .progress = [](const auto&) { throw Failure("told"); }}),
      Failure);
}

TEST_CASE("Ctrl-C stays whose it was, during every question", "[cancel]") {
  struct sigaction before {};
  sigaction(SIGINT, nullptr, &before);
  struct sigaction own {};
  own.sa_handler = [](int) {};
  sigaction(SIGINT, &own, nullptr);
  std::atomic<bool> done = false;
  std::atomic<std::size_t> changed = 0;
  std::jthread watcher([&] {
    while (!done) {
      struct sigaction now {};
      sigaction(SIGINT, nullptr, &now);
      if (now.sa_handler != own.sa_handler) ++changed;
    }
  });
  const dsl::Model model = shipped_model("boat/pump_jet.detent");
  static_cast<void>(solver::check_forever(model, {}));
  static_cast<void>(solver::check_bounded(model, {.within = 100}));
  done = true;
  watcher.join();
  sigaction(SIGINT, &before, nullptr);
  CHECK(changed == 0);
}
