// Verdicts for all time: what they are, how short their runs are, and what limits do to them. What is right
// comes from the definitions in dsl/README.md and from looks at every run; no outside source.
#include "solver/forever.hpp"

#include <fmt/format.h>

#include <atomic>
#include <chrono>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "solver/bounded.hpp"
#include "solver/interpreter.hpp"
#include "solver/satisfiability.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"
#include "tests/support/design_generator.hpp"
#include "tests/support/expectations.hpp"
#include "tests/support/fischer.hpp"
#include "tests/support/pigeons.hpp"

using namespace detent;
using namespace detent::test;

namespace {

using dsl::Value;
using solver::ForeverOptions;
using solver::Limit;
using solver::Outcome;
using solver::Report;
using solver::Verdict;

ForeverOptions plain() {
  ForeverOptions options;
  options.side_findings = false;
  return options;
}

Report checked(const std::string& text) {
  return solver::check_forever(compiled(text), plain());
}

double seconds_since(std::chrono::steady_clock::time_point start) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

/// Ticks in which an input is not what it was, the first tick included: what a person sees as moments.
std::size_t moments_of_hands(const solver::Run& run) {
  std::size_t count = 0;
  for (std::size_t tick = 0; tick < run.ticks(); ++tick) {
    count += tick == 0 || run.inputs[tick] != run.inputs[tick - 1] ? 1U : 0U;
  }
  return count;
}

}  // namespace

TEST_CASE("A refutation has fewest events before fewest ticks") {
  // By waiting, 50 ticks and two events; by nudging, 6 ticks and six.
  const std::string text =
      "tick 1 ms\nbutton nudge\ncounter tries up nudge from 0 to 3\n"
      "signal ever = since(true, nudge)\n"
      "claim c: never tries == 3 or held(ever, 50 ticks)\n";
  const Report forever = checked(text);
  REQUIRE(forever.verdicts[0].outcome == Outcome::refuted);
  CHECK(forever.verdicts[0].run->ticks() == 51);
  CHECK(moments_of_hands(*forever.verdicts[0].run) == 1);
  const Report bounded = solver::check_bounded(compiled(text), {.within = 60});
  REQUIRE(bounded.verdicts[0].outcome == Outcome::refuted);
  CHECK(bounded.verdicts[0].run->ticks() == 5);
}

TEST_CASE("A long wait is one event: a window of ten minutes at 20 ms") {
  const Report report = checked(
      "tick 20 ms\nbutton nudge\ndelay late on nudge for 10 min\nclaim never_late: never late\n"
      "claim closes: late only while recently(nudge, 1 s)\n");
  REQUIRE(report.verdicts[0].outcome == Outcome::refuted);
  CHECK(report.verdicts[0].run->ticks() == 30'001);
  CHECK(report.verdicts[1].outcome == Outcome::proved);
}

TEST_CASE("A ramp that is looked at is skipped, and arrives as late as its rate says") {
  const Report report = checked(
      "tick 20 ms\nchannel stick from 0 % to 100 % step 1 % moving at most 1 % per tick\n"
      "at power_up: stick == 0 %\nclaim arrives: possible stick == 100 %\n");
  REQUIRE(report.verdicts[0].outcome == Outcome::shown);
  CHECK(report.verdicts[0].run->ticks() == 101);
}

TEST_CASE("A ramp arrives within the time that its rate allows, and not a tick before") {
  const Report report = checked(
      "tick 20 ms\nchannel stick from 0 % to 100 % step 5 % moving at most 5 % per tick\n"
      "at power_up: stick == 0 %\nclaim too_soon: possible stick == 100 % within 19 ticks\n"
      "claim just: possible stick == 100 % within 20 ticks\n"
      "claim slow: never stick == 100 % while recently(stick <= 50 %, 10 ticks)\n");
  CHECK(report.verdicts[0].outcome == Outcome::refuted);
  CHECK(report.verdicts[1].outcome == Outcome::shown);
  CHECK(report.verdicts[2].outcome == Outcome::refuted);
}

TEST_CASE("Vacuous is said of a proof whose premise never happens, and of no other") {
  const Report report = checked(
      "tick 20 ms\nbutton go\nbutton stop\nlatch live set go reset stop\n"
      "claim idle: whenever live and stop: go\nclaim busy: whenever stop: not live\n"
      "claim both: never go while live and stop\n");
  CHECK(report.verdicts[0].outcome == Outcome::proved);
  CHECK(report.verdicts[0].vacuous);
  CHECK(report.verdicts[1].outcome == Outcome::proved);
  CHECK_FALSE(report.verdicts[1].vacuous);
  CHECK(report.verdicts[2].vacuous);
}

TEST_CASE("What is never possible is refuted with a proof and no run") {
  const Report report = checked(
      "tick 20 ms\nbutton go\nbutton stop\nlatch live set go reset stop\nclaim p: possible live and stop\n");
  CHECK(report.verdicts[0].outcome == Outcome::refuted);
  CHECK(report.verdicts[0].proof);
  CHECK_FALSE(report.verdicts[0].run);
}

TEST_CASE("A possible claim counts its deadline from tick 0, that tick included") {
  const auto outcome = [](const std::string& deadline) {
    return checked("tick 10 ms\nbutton go\ndelay d on go for 70 ms\nclaim p: possible d within " + deadline +
                   "\n")
        .verdicts[0]
        .outcome;
  };
  CHECK(outcome("60 ms") == Outcome::refuted);
  CHECK(outcome("70 ms") == Outcome::shown);
}

TEST_CASE("A deadline is kept by a run of more events where the one of fewest events is too slow") {
  // Two events take 51 ticks, six take 5: within 20 ticks it is possible all the same.
  const Report report = checked(
      "tick 1 ms\nbutton nudge\ncounter tries up nudge from 0 to 3\nsignal ever = since(true, nudge)\n"
      "claim p: possible tries == 3 or held(ever, 50 ticks) within 20 ticks\n"
      "claim q: possible tries == 3 or held(ever, 50 ticks) within 3 ticks\n");
  CHECK(report.verdicts[0].outcome == Outcome::shown);
  CHECK(report.verdicts[1].outcome == Outcome::refuted);
}

TEST_CASE("Assumptions that leave no run of a length are told of, with that length") {
  const Report report = checked(
      "tick 20 ms\nbutton go\nsignal later = held(true, 3 ticks)\n"
      "assume a: whenever later: go\nassume b: never go\nclaim c: never go\n");
  REQUIRE(report.no_run_of);
  CHECK(*report.no_run_of == 4);
}

TEST_CASE("Time, an interruption and memory leave what is hard undecided, and say so") {
  const dsl::Model model = compiled(pigeons_text(11));
  ForeverOptions options = plain();
  SECTION("time") {
    options.timeout = std::chrono::milliseconds(2000);
    const auto start = std::chrono::steady_clock::now();
    const Report report = solver::check_forever(model, options);
    CHECK(seconds_since(start) < 20);
    CHECK(report.verdicts[0].outcome == Outcome::undecided);
    CHECK(report.verdicts[0].limit == Limit::time);
  }
  SECTION("interrupted") {
    std::atomic<bool> stop = false;
    options.cancel = &stop;
    std::jthread hand([&] {
      std::this_thread::sleep_for(std::chrono::milliseconds(1500));
      stop = true;
    });
    const auto start = std::chrono::steady_clock::now();
    const Report report = solver::check_forever(model, options);
    CHECK(seconds_since(start) < 20);
    CHECK(report.verdicts[0].outcome == Outcome::undecided);
    CHECK(report.verdicts[0].limit == Limit::interrupted);
  }
  SECTION("memory") {
    options.memory_mib = solver::solver_memory_bytes() / 1024 / 1024 + 6;
    options.timeout = std::chrono::minutes(2);
    const Report report = solver::check_forever(model, options);
    CHECK(report.verdicts[0].outcome == Outcome::undecided);
    CHECK(report.verdicts[0].limit == Limit::memory);
    // A later check is not disturbed.
    CHECK(checked("tick 1 ms\nbutton b\nclaim c: never b and not b\n").verdicts[0].outcome ==
          Outcome::proved);
  }
}

TEST_CASE("No time at all decides nothing that needs work") {
  ForeverOptions options = plain();
  options.timeout = std::chrono::milliseconds(0);
  const Report report = solver::check_forever(compiled(fischer(2, {1, 2})), options);
  for (const Verdict& verdict : report.verdicts) {
    CHECK(verdict.outcome == Outcome::undecided);
    CHECK(verdict.limit == Limit::time);
    CHECK(verdict.ticks == 0);
  }
}

TEST_CASE("One thread or two: the same verdicts") {
  std::size_t proved = 0;
  for (std::uint64_t seed = 300; seed < 330; ++seed) {
    const dsl::Model model = compiled(random_design(seed));
    ForeverOptions options;
    const Report one = solver::check_forever(model, options);
    options.jobs = 2;
    const Report two = solver::check_forever(model, options);
    INFO("seed " << seed);
    CHECK(one.no_run_of == two.no_run_of);
    CHECK(one.never_change == two.never_change);
    REQUIRE(one.verdicts.size() == two.verdicts.size());
    for (std::size_t index = 0; index < one.verdicts.size(); ++index) {
      CHECK(verdict_words(one.verdicts[index]) == verdict_words(two.verdicts[index]));
      proved += one.verdicts[index].outcome == Outcome::proved ? 1U : 0U;
    }
  }
  CHECK(proved > 5);
}

TEST_CASE("Two inputs of one name are two inputs") {
  dsl::Model model = compiled("tick 20 ms\nbutton one\nclaim c: never one\n");
  dsl::CircuitInput twin = model.circuit.inputs().front();
  const dsl::NodeId other = model.circuit.input(twin);
  dsl::Claim& claim = model.claims.front();
  claim.watch = model.circuit.and_(claim.watch, model.circuit.not_(other));
  REQUIRE(model.circuit.finish().empty());
  CHECK(solver::check_forever(model, {.side_findings = false}).verdicts[0].outcome == Outcome::refuted);
  CHECK(solver::check_bounded(model, {.within = 3, .side_findings = false}).verdicts[0].outcome ==
        Outcome::refuted);
}
