// What the trade expects of an unlock window and of a lock, on the design in specs/flagship.
//
// A window of 8 s at a tick of 20 ms is on for exactly 400 ticks; changed to 3 s, for 150. The locked output
// stands at -100 % in the very tick in which the lock is thrown. Source: common practice, no source; about
// one pulse every 20 ms and -100 % for a closed throttle are common practice likewise. Each is looked at
// twice: on the interpreter, and as claims that Z3 is asked about.
//
// Checked: an unlock window of 8 s at 20 ms a tick, a lock in the very tick | none | common practice, no
// source
#include <fmt/format.h>

#include <fstream>
#include <iterator>
#include <regex>

#include "solver/bounded.hpp"
#include "solver/interpreter.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"
#include "tests/support/expectations.hpp"

using namespace detent;
using namespace detent::test;

namespace {

/// The flagship with all its claims taken out, its eight seconds changed, and these claims put in.
std::string flagship(int seconds, const std::string& claims) {
  std::ifstream file(DETENT_SOURCE_DIR "/specs/flagship/two_step_unlock.detent");
  std::string text{std::istreambuf_iterator<char>(file), {}};
  REQUIRE(text.find("claim ") != std::string::npos);
  text.erase(text.find("claim "));
  REQUIRE(text.find("for 8 s\n") != std::string::npos);
  return std::regex_replace(text, std::regex("for 8 s\n"), fmt::format("for {} s\n", seconds)) + claims;
}

/// The hand at one tick.
struct Hand {
  dsl::Value thrust = -100;
  dsl::Value rudder = 0;
  dsl::Value guard = 0;  ///< 0 safe, 1 run
};

solver::Trace trace_of(const dsl::Model& model, const std::vector<Hand>& hands) {
  solver::Run run;
  for (const Hand& hand : hands) {
    solver::Rows::Row values(model.circuit.inputs().size());
    values[signal_named(model, "thrust").input] = hand.thrust;
    values[signal_named(model, "rudder").input] = hand.rudder;
    values[signal_named(model, "guard").input] = hand.guard;
    run.inputs.push_back(values);
  }
  return solver::replay(model.circuit, run);
}

std::vector<dsl::Value> values_of(const dsl::Model& model, const solver::Trace& trace,
                                  const std::string& name) {
  std::vector<dsl::Value> values;
  for (std::size_t tick = 0; tick < trace.ticks(); ++tick) {
    values.push_back(trace.at(tick, signal_named(model, name).node));
  }
  return values;
}

std::vector<std::string> verdicts_of(const std::string& text, dsl::Value within) {
  const dsl::Model model = compiled(text);
  const solver::Report report = solver::check_bounded(model, {.within = within, .side_findings = false});
  std::vector<std::string> words;
  for (const solver::Verdict& verdict : report.verdicts) words.push_back(verdict_words(verdict));
  return words;
}

}  // namespace

TEST_CASE("A window of 8 s is on for 400 ticks of 20 ms, of 3 s for 150, on the interpreter") {
  const auto [seconds, ticks] = GENERATE(table<int, std::size_t>({{8, 400}, {3, 150}}));
  const dsl::Model model = compiled(flagship(seconds, ""));
  const std::size_t nudge = 5;
  std::vector<Hand> hands(500);
  for (std::size_t tick = nudge; tick < hands.size(); ++tick) hands[tick].rudder = 100;  // held, not let go
  const std::vector<dsl::Value> window = values_of(model, trace_of(model, hands), "window");
  std::vector<dsl::Value> expected(hands.size(), 0);
  std::fill_n(expected.begin() + nudge, ticks, 1);
  CHECK(window == expected);
}

TEST_CASE("Z3 finds the window on for 400 ticks or 150, no less, no more, no tick further") {
  const auto [seconds, ticks] = GENERATE(table<int, int>({{8, 400}, {3, 150}}));
  const std::string claims = fmt::format(
      "claim no_shorter: window lasts at least {0} ticks\n"
      "claim no_longer: window lasts at most {0} ticks\n"
      "claim one_more: window lasts at least {1} ticks\n"
      "claim one_less: window lasts at most {2} ticks\n",
      ticks, ticks + 1, ticks - 1);
  // The first edge that counts is at tick 1: one_less is broken in the window's last tick, one_more in the
  // next.
  CHECK(verdicts_of(flagship(seconds, claims), ticks + 100) ==
        std::vector<std::string>{"holds", "holds", fmt::format("refuted at tick {}", ticks + 1),
                                 fmt::format("refuted at tick {}", ticks)});
}

TEST_CASE("The locked jet stands at -100 % in the tick in which the guard goes to safe, on the interpreter") {
  const dsl::Model model = compiled(flagship(8, ""));
  std::vector<Hand> hands(8);
  hands[1].rudder = 100;
  for (std::size_t tick = 2; tick < 6; ++tick) hands[tick].guard = 1;
  for (std::size_t tick = 3; tick < hands.size(); ++tick) hands[tick].thrust = 70;  // and never pulled back
  const solver::Trace trace = trace_of(model, hands);
  CHECK(values_of(model, trace, "live") == std::vector<dsl::Value>{0, 0, 1, 1, 1, 1, 0, 0});
  CHECK(values_of(model, trace, "jet") == std::vector<dsl::Value>{-100, -100, -100, 70, 70, 70, -100, -100});
}

TEST_CASE(
    "Z3 finds no run in which the jet turns while the guard is at safe, but runs in which it does at run") {
  const std::string claims =
      "claim locked: whenever guard is safe: jet == -100 %\n"
      "claim locked_or_not: always jet == -100 %\n";
  // At tick 1 both steps are done, with the stick at -99 %, which still counts as its stop.
  CHECK(verdicts_of(flagship(8, claims), 450) == std::vector<std::string>{"holds", "refuted at tick 1"});
}
