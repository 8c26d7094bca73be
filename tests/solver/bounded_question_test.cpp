// The bounded question in SMT-LIB (solver/smtlib_bounded.hpp) against the verdicts of check_bounded, as the
// programs z3 and cvc5 answer it: `unsat` one tick before the shortest run, `sat` at its length. The same
// question is asked there in gates, which shares the circuit and nothing else. And the values that z3 gives
// are a run that the interpreter confirms.
//
// Checked: bounded questions, answered by two other solvers as by the bounded check | SMT-LIB 2.6 | the
// format read
#include <algorithm>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "solver/bounded.hpp"
#include "solver/interpreter.hpp"
#include "solver/smtlib_bounded.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"
#include "tests/support/design_generator.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/other_solvers.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"
#include "tests/support/shipped.hpp"

using namespace detent;
using namespace detent::test;

namespace {

using dsl::Value;
using solver::Outcome;

std::vector<std::string> solvers() {
  std::string missing;
  std::vector<std::string> found = solvers_here(missing);
  if (!missing.empty()) WARN(missing << "it was not asked");
  return found;
}

struct Asked {
  std::vector<std::string> questions, expected;
};

/// What a verdict says of runs of up to so many ticks, as questions.
void add(Asked& asked, const dsl::Model& model, const solver::Verdict& verdict, Value within) {
  const auto ask = [&](Value ticks, const char* answer) {
    if (ticks < 1) return;
    asked.questions.push_back(solver::bounded_question(model, verdict.claim, ticks, "test"));
    asked.expected.emplace_back(answer);
  };
  if (verdict.run && verdict.limit == solver::Limit::none) {
    const auto length = static_cast<Value>(verdict.run->ticks());
    ask(length - 1, "unsat");
    ask(length, "sat");
    if (length < within) ask(within, "sat");
  } else if (verdict.outcome == Outcome::holds_up_to || verdict.outcome == Outcome::refuted) {
    ask(within, "unsat");
  }
}

void check(const std::vector<std::string>& others, const Asked& asked) {
  for (const std::string& other : others) {
    const std::vector<std::string> said = answers(other, asked.questions);
    for (std::size_t index = 0; index < said.size(); ++index) {
      if (said[index] == asked.expected[index]) continue;
      FAIL_CHECK(other << " answers '" << said[index] << "' and not '" << asked.expected[index] << "' to\n"
                       << asked.questions[index].substr(0, 1500));
    }
  }
}

solver::Report bounded(const dsl::Model& model, Value within) {
  return solver::check_bounded(model, {.within = within, .side_findings = false});
}

}  // namespace

TEST_CASE("z3 and cvc5 answer bounded questions as the bounded check does", "[bounded-question]") {
  const std::vector<std::string> others = solvers();
  std::size_t count = 0;
  for (const std::string& name : shipped_files("mistakes")) {
    INFO(name);
    const dsl::Model model = *compile_changed(name, [](std::string text) { return text; }).model;
    Asked asked;
    for (const solver::Verdict& verdict : bounded(model, 12).verdicts) add(asked, model, verdict, 12);
    count += asked.questions.size();
    check(others, asked);
  }
  CHECK(count > 40);
}

TEST_CASE("the same for random designs", "[bounded-question]") {
  const std::vector<std::string> others = solvers();
  std::size_t sat = 0;
  std::size_t unsat = 0;
  for (std::uint64_t seed = 0; seed < 40; ++seed) {
    INFO(seed);
    const dsl::Model model = compiled(random_design(seed));
    constexpr Value within = 6;
    const solver::Report report = bounded(model, within);
    Asked asked;
    for (const solver::Verdict& verdict : report.verdicts) add(asked, model, verdict, within);
    for (const std::string& answer : asked.expected) ++(answer == "sat" ? sat : unsat);
    check(others, asked);
  }
  CHECK(sat > 30);
  CHECK(unsat > 30);
}

TEST_CASE("a run that breaks a claim and then can't go on is asked for, too", "[bounded-question]") {
  // a can be pressed once, at tick 1, and then no tick more is allowed: with all ticks under all assumptions,
  // the question for 5 ticks would be unsat.
  const dsl::Model model = compiled(
      "tick 20 ms\nbutton a\nsignal was = previous(a)\nassume stop: never was\nassume late: a only after a "
      "or "
      "previous(not a)\nclaim c: never a and previous(not a)\n");
  const solver::Report report = bounded(model, 5);
  Asked asked;
  add(asked, model, report.verdicts[0], 5);
  REQUIRE(asked.expected.back() == "sat");
  check(solvers(), asked);
}

TEST_CASE("the values of a model are a run that breaks the claim", "[bounded-question]") {
  const auto z3 = installed("z3");
  if (!z3) {
    WARN("z3 is not installed; it was not asked");
    return;
  }
  const dsl::Model model =
      *compile_changed(DETENT_SOURCE_DIR "/specs/mistakes/reset_starts.detent", [](std::string text) {
         return text;
       }).model;
  const auto claim = static_cast<std::uint32_t>(&claim_named(model, "start_is_meant") - model.claims.data());
  std::string question = solver::bounded_question(model, claim, 4, "test");
  std::vector<std::string> buttons;
  for (const dsl::Signal& signal : model.signals) {
    if (signal.role == dsl::SignalRole::hand) buttons.push_back(signal.name);
  }
  for (int tick = 0; tick < 4; ++tick) {
    for (const std::string& name : buttons)
      question += "(get-value (|" + name + "@" + std::to_string(tick) + "|))\n";
  }
  const Folder folder;
  const ProcessResult result = run_process({*z3, folder.write("q.smt2", question)});
  INFO(result.output);
  std::istringstream lines(result.output);
  std::string line;
  REQUIRE(std::getline(lines, line));
  REQUIRE(line == "sat");
  test::Rows rows;
  for (int tick = 0; tick < 4; ++tick) {
    for (const std::string& name : buttons) {
      REQUIRE(std::getline(lines, line));
      rows[name] += has(line, " true)") ? '1' : '0';
    }
  }
  const solver::Trace trace = solver::replay(model.circuit, run_of(model, rows));
  bool broken = false;
  for (std::size_t tick = 0; tick < 4; ++tick)
    broken = broken || trace.at(tick, model.claims[claim].watch) != 0;
  CHECK(broken);
}
