// The search on its own, without a look round by chance before it: on small circuits chance alone finds
// nearly every shortest run, and would hide what the search misses.
#include "solver/search.hpp"

#include "solver/explore.hpp"
#include "solver/interpreter.hpp"
#include "tests/support/breadth_first.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/random_circuit.hpp"

using namespace detent;
using dsl::NodeId;
using dsl::Value;
using solver::Question;
using solver::Setting;

namespace {

constexpr Value within = 9;

const solver::Limits no_limits({}, {}, nullptr);

bool does_it(const Setting& setting, NodeId node, const solver::Run& run) {
  const solver::Trace trace = solver::replay(*setting.circuit, run);
  for (const auto& [tick, values] : trace.moments()) {
    for (const NodeId kept : setting.constraints) {
      if (values[kept] == 0) return false;
    }
  }
  return solver::is_well_formed(*setting.circuit, run) && trace.at(trace.ticks() - 1, node) != 0;
}

void compare(const Setting& setting, const Question& question, const std::optional<std::size_t>& shortest) {
  INFO("node " << question.node);
  REQUIRE(question.is_settled());
  REQUIRE(question.limit == solver::Limit::none);
  REQUIRE(question.run.has_value() == shortest.has_value());
  if (shortest) {
    REQUIRE(question.run->ticks() == *shortest);
    REQUIRE(question.absent == static_cast<Value>(*shortest) - 1);
    REQUIRE(does_it(setting, question.node, *question.run));
  } else {
    REQUIRE(question.absent == within);
  }
}

}  // namespace

TEST_CASE("the search finds the shortest runs that a breadth-first search finds, and no others") {
  std::size_t found = 0;
  std::size_t found_late = 0;
  for (std::uint64_t seed = 1000; seed < 1400; ++seed) {
    const test::RandomCircuit made = test::random_circuit(seed);
    const auto all_runs = test::breadth_first(made.circuit, made.conditions, made.constraints, within, 3000);
    if (!all_runs) continue;
    const Setting setting{&made.circuit, made.constraints};
    std::vector<Question> questions;
    for (const NodeId node : made.conditions) questions.push_back({node, within});
    solver::Statistics statistics;
    solver::search(setting, questions, no_limits, statistics);
    INFO("seed " << seed << '\n' << dsl::to_text(made.circuit));
    for (std::size_t index = 0; index < questions.size(); ++index) {
      const auto& shortest = all_runs->shortest[index];
      compare(setting, questions[index], shortest);
      if (shortest) ++found;
      if (shortest && *shortest > 2) ++found_late;
    }
  }
  CHECK(found > 1000);
  CHECK(found_late > 50);
}

TEST_CASE("the number of ticks of which there is no run is that of a breadth-first search") {
  std::size_t impossible = 0;
  for (std::uint64_t seed = 0; seed < 300; ++seed) {
    const test::RandomCircuit made = test::random_circuit(seed);
    if (made.constraints.empty()) continue;
    const auto all_runs = test::breadth_first(made.circuit, {}, made.constraints, within, 3000);
    if (!all_runs) continue;
    solver::Statistics statistics;
    const auto none =
        solver::shortest_impossible({&made.circuit, made.constraints}, within, no_limits, statistics);
    INFO("seed " << seed << '\n' << dsl::to_text(made.circuit));
    REQUIRE(none.has_value() == all_runs->no_run_of.has_value());
    if (!none) continue;
    REQUIRE(*none == static_cast<Value>(*all_runs->no_run_of));
    ++impossible;
  }
  CHECK(impossible > 5);
}

TEST_CASE("a run known before is kept only where no shorter one is found") {
  dsl::Circuit circuit;
  const NodeId button = circuit.input({.name = "button", .condition = true});
  const NodeId pressed_before = circuit.previous(button, 0);
  REQUIRE(circuit.finish().empty());
  const Setting setting{&circuit, {}};
  solver::Statistics statistics;
  std::vector<Question> questions{{pressed_before, 20, solver::Run{{{0}, {0}, {0}, {1}, {0}}}},
                                  {pressed_before, 20, solver::Run{{{1}, {0}}}}};
  solver::search(setting, questions, no_limits, statistics);
  for (const Question& question : questions) {
    REQUIRE(question.run);
    CHECK(question.run->ticks() == 2);
    CHECK(question.is_shortest());
  }
}

TEST_CASE("what is met by chance is a run that keeps the constraints") {
  std::size_t met = 0;
  for (std::uint64_t seed = 0; seed < 150; ++seed) {
    const test::RandomCircuit made = test::random_circuit(seed);
    const Setting setting{&made.circuit, made.constraints};
    const solver::Sights sights = solver::explore(setting, made.conditions, within, no_limits);
    INFO("seed " << seed << '\n' << dsl::to_text(made.circuit));
    for (std::size_t index = 0; index < made.conditions.size(); ++index) {
      if (!sights.runs[index]) continue;
      REQUIRE(does_it(setting, made.conditions[index], *sights.runs[index]));
      ++met;
    }
  }
  CHECK(met > 300);
}

TEST_CASE("a hand that may only move slowly still goes a long way by chance") {
  dsl::Circuit circuit;
  const NodeId stick = circuit.input({.name = "stick", .range = {-100, 100}});
  const NodeId moved = circuit.add(stick, circuit.times(-1, circuit.previous(stick, 0)));
  const NodeId slowly = circuit.and_(circuit.less_equal(moved, circuit.constant(8)),
                                     circuit.less_equal(circuit.constant(-8), moved));
  const NodeId rate = circuit.or_(circuit.first_tick(), slowly);
  const NodeId high = circuit.less_equal(circuit.constant(90), stick);
  const NodeId crossed = circuit.and_(
      high, circuit.age_at_most(circuit.age(circuit.less_equal(stick, circuit.constant(-90)), false), 300));
  REQUIRE(circuit.finish().empty());
  const solver::Sights sights = solver::explore({&circuit, {rate}}, {crossed}, 400, no_limits);
  CHECK(sights.longest_run == 400);
  CHECK(sights.runs[0].has_value());
}
