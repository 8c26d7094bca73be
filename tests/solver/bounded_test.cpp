// Bounded checks against a breadth-first search of all runs, and each kind of answer on a circuit made for
// it.
#include "solver/bounded.hpp"

#include <algorithm>

#include "solver/interpreter.hpp"
#include "tests/support/breadth_first.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/random_circuit.hpp"

using namespace detent;
using dsl::Claim;
using dsl::Model;
using dsl::NodeId;
using dsl::Value;
using solver::Limit;
using solver::Outcome;
using solver::Report;

namespace {

Claim safety(NodeId watch, NodeId premise = dsl::no_node) {
  Claim claim;
  claim.watch = watch;
  claim.premise = premise;
  return claim;
}

Claim possibility(NodeId watch, std::optional<Value> within = {}) {
  Claim claim;
  claim.watch = watch;
  claim.possible = true;
  claim.within = within;
  return claim;
}

dsl::Constraint constraint(NodeId node) {
  dsl::Constraint made;
  made.node = node;
  return made;
}

Report check(const Model& model, Value within) {
  solver::BoundedOptions options;
  options.within = within;
  return solver::check_bounded(model, options);
}

void finish(Model& model) {
  REQUIRE(model.circuit.finish().empty());
}

/// A run that keeps the constraints and makes the node true in its last tick and not before.
bool does_it(const Model& model, NodeId node, const solver::Run& run) {
  if (!solver::is_well_formed(model.circuit, run)) return false;
  const solver::Trace trace = solver::replay(model.circuit, run);
  for (std::size_t tick = 0; tick < trace.ticks(); ++tick) {
    if ((trace.at(tick, node) != 0) != (tick + 1 == trace.ticks())) return false;
    for (const dsl::Constraint& kept : model.constraints) {
      if (trace.at(tick, kept.node) == 0) return false;
    }
  }
  return true;
}

}  // namespace

TEST_CASE("bounded checks find the shortest runs that a breadth-first search finds, and no others") {
  constexpr Value within = 9;
  std::size_t compared = 0;
  std::size_t found = 0;
  for (std::uint64_t seed = 0; seed < 400; ++seed) {
    const test::RandomCircuit made = test::random_circuit(seed);
    const auto all_runs = test::breadth_first(made.circuit, made.conditions, made.constraints, within, 3000);
    if (!all_runs) continue;
    Model model;
    model.circuit = made.circuit;
    for (const NodeId node : made.constraints) model.constraints.push_back(constraint(node));
    for (const NodeId node : made.conditions) model.claims.push_back(safety(node));
    const Report report = check(model, within);
    INFO("seed " << seed << '\n' << dsl::to_text(made.circuit));
    REQUIRE(report.no_run_of.has_value() == all_runs->no_run_of.has_value());
    if (report.no_run_of) REQUIRE(*report.no_run_of == static_cast<Value>(*all_runs->no_run_of));
    REQUIRE(report.verdicts.size() == made.conditions.size());
    for (std::size_t index = 0; index < made.conditions.size(); ++index) {
      const solver::Verdict& verdict = report.verdicts[index];
      INFO("node " << made.conditions[index]);
      ++compared;
      if (const auto shortest = all_runs->shortest[index]) {
        ++found;
        REQUIRE(verdict.outcome == Outcome::refuted);
        REQUIRE(verdict.limit == Limit::none);
        REQUIRE(verdict.run->ticks() == *shortest);
        REQUIRE(does_it(model, made.conditions[index], *verdict.run));
      } else {
        REQUIRE_FALSE(verdict.run);
        REQUIRE(verdict.outcome == (report.no_run_of ? Outcome::undecided : Outcome::holds_up_to));
        REQUIRE(verdict.ticks == (report.no_run_of ? *report.no_run_of - 1 : within));
      }
    }
  }
  CHECK(compared > 1500);
  CHECK(found > 500);
  CHECK(compared - found > 300);
}

// Source: the worked example of bounded model checking, "never 3" on a two-bit counter from 0 (Biere,
// Cimatti, Clarke, Zhu, TACAS 1999; the number, k = 3 or four states, by exhaustive enumeration).
TEST_CASE("a two-bit counter first reaches 3 after three steps") {
  Model model;
  dsl::Circuit& circuit = model.circuit;
  const NodeId low = circuit.open_previous(true, 0);
  const NodeId high = circuit.open_previous(true, 0);
  circuit.connect(low, circuit.not_(low));
  circuit.connect(high, circuit.not_(circuit.equal(high, low)));
  model.claims.push_back(safety(circuit.and_(low, high)));
  finish(model);
  const Report three = check(model, 3);
  CHECK(three.verdicts[0].outcome == Outcome::holds_up_to);
  CHECK(three.verdicts[0].ticks == 3);
  const Report four = check(model, 4);
  CHECK(four.verdicts[0].outcome == Outcome::refuted);
  REQUIRE(four.verdicts[0].run);
  CHECK(four.verdicts[0].run->ticks() == 4);
}

TEST_CASE("a long clock is exact to the tick") {
  for (const Value time : {1, 7, 400}) {
    Model model;
    dsl::Circuit& circuit = model.circuit;
    const NodeId button = circuit.input({.name = "button", .condition = true});
    const NodeId seen = circuit.age_at_most(circuit.age(button, false), 1'000'000);
    const NodeId recently = circuit.age_at_most(circuit.age(button, false), time);
    model.claims.push_back(safety(circuit.and_(seen, circuit.not_(recently))));
    finish(model);
    CHECK(check(model, time + 1).verdicts[0].outcome == Outcome::holds_up_to);
    const Report report = check(model, time + 20);
    REQUIRE(report.verdicts[0].outcome == Outcome::refuted);
    CHECK(report.verdicts[0].run->ticks() == static_cast<std::size_t>(time) + 2);
  }
}

TEST_CASE("a claim whose premise cannot come true says nothing") {
  Model model;
  dsl::Circuit& circuit = model.circuit;
  const NodeId a = circuit.input({.name = "a", .condition = true});
  const NodeId b = circuit.input({.name = "b", .condition = true});
  const NodeId was = circuit.previous(a, 0);
  const NodeId impossible =
      circuit.and_(b, circuit.equal(circuit.previous(b, 0), circuit.not_(circuit.previous(b, 0))));
  const NodeId late = circuit.not_(circuit.age_at_most(circuit.age(circuit.first_tick(), false), 4));
  const NodeId excluded = circuit.and_(was, b);
  const NodeId no = circuit.truth(false);
  for (const NodeId premise : {impossible, late, excluded, was}) model.claims.push_back(safety(no, premise));
  model.constraints.push_back(constraint(circuit.not_(excluded)));
  finish(model);
  const Report short_of_it = check(model, 5);
  CHECK(short_of_it.verdicts[0].vacuous);
  CHECK(short_of_it.verdicts[1].vacuous);  // true from tick 5 on: a sixth tick
  CHECK(short_of_it.verdicts[2].vacuous);  // the assumption forbids it
  CHECK_FALSE(short_of_it.verdicts[3].vacuous);
  CHECK_FALSE(check(model, 6).verdicts[1].vacuous);
}

TEST_CASE("assumptions that leave no run are found, with the number of ticks") {
  Model model;
  dsl::Circuit& circuit = model.circuit;
  const NodeId a = circuit.input({.name = "a", .condition = true});
  const NodeId held = circuit.not_(circuit.age_at_most(circuit.age(circuit.not_(a), true), 3));
  model.constraints.push_back(constraint(a));
  model.constraints.push_back(constraint(circuit.not_(held)));
  model.claims.push_back(safety(circuit.truth(false)));
  model.claims.push_back(safety(circuit.previous(a, 0)));
  finish(model);
  CHECK_FALSE(check(model, 3).no_run_of);
  const Report report = check(model, 50);
  REQUIRE(report.no_run_of);
  CHECK(*report.no_run_of == 4);
  CHECK(report.verdicts[0].outcome == Outcome::undecided);
  CHECK(report.verdicts[0].ticks == 3);
  CHECK(report.verdicts[1].outcome == Outcome::refuted);  // a run of two ticks, which there is
}

TEST_CASE("a run counts although the assumptions let it go no further") {
  Model model;
  dsl::Circuit& circuit = model.circuit;
  const NodeId trap = circuit.input({.name = "trap", .condition = true});
  model.constraints.push_back(constraint(circuit.not_(circuit.previous(trap, 0))));
  model.claims.push_back(safety(trap));
  model.claims.push_back(safety(circuit.and_(trap, circuit.previous(circuit.not_(trap), 0))));
  finish(model);
  const Report report = check(model, 20);
  CHECK_FALSE(report.no_run_of);
  REQUIRE(report.verdicts[0].run);
  CHECK(report.verdicts[0].run->ticks() == 1);
  REQUIRE(report.verdicts[1].run);
  CHECK(report.verdicts[1].run->ticks() == 2);
}

TEST_CASE("possible claims are shown, refuted within their bound, or left open") {
  Model model;
  dsl::Circuit& circuit = model.circuit;
  circuit.input({.name = "a", .condition = true});
  const NodeId from_five = circuit.not_(circuit.age_at_most(circuit.age(circuit.first_tick(), false), 4));
  model.claims = {possibility(from_five),
                  possibility(from_five, 5),
                  possibility(from_five, 4),
                  possibility(circuit.truth(false)),
                  possibility(circuit.truth(false), 19),
                  possibility(circuit.truth(false), 20)};
  finish(model);
  const std::vector<solver::Verdict> verdicts = check(model, 20).verdicts;
  CHECK(verdicts[0].outcome == Outcome::shown);
  CHECK(verdicts[0].run->ticks() == 6);
  CHECK(verdicts[1].outcome == Outcome::shown);
  CHECK(verdicts[2].outcome == Outcome::refuted);
  CHECK_FALSE(verdicts[2].run);
  CHECK(verdicts[2].ticks == 5);
  CHECK(verdicts[3].outcome == Outcome::undecided);
  CHECK(verdicts[3].limit == Limit::ticks);
  CHECK(verdicts[4].outcome == Outcome::refuted);
  CHECK(verdicts[4].ticks == 20);
  CHECK(verdicts[5].outcome == Outcome::undecided);
  CHECK(verdicts[5].limit == Limit::ticks);
  CHECK(verdicts[5].ticks == 20);
}

TEST_CASE("only the claims asked for are answered, in that order") {
  Model model;
  dsl::Circuit& circuit = model.circuit;
  const NodeId a = circuit.input({.name = "a", .condition = true});
  model.claims = {safety(a), safety(circuit.truth(false)), safety(circuit.previous(a, 0))};
  finish(model);
  solver::BoundedOptions options;
  options.within = 5;
  options.claims = {2, 1};
  const Report report = solver::check_bounded(model, options);
  REQUIRE(report.verdicts.size() == 2);
  CHECK(report.verdicts[0].claim == 2);
  CHECK(report.verdicts[0].outcome == Outcome::refuted);
  CHECK(report.verdicts[1].claim == 1);
  CHECK(report.verdicts[1].outcome == Outcome::holds_up_to);
}

namespace {

dsl::Signal signal(NodeId node, dsl::SignalRole role = dsl::SignalRole::element) {
  dsl::Signal made;
  made.node = node;
  made.role = role;
  return made;
}

}  // namespace

TEST_CASE("signals that never change and moves that can overlap are found aside") {
  Model model;
  dsl::Circuit& circuit = model.circuit;
  const NodeId a = circuit.input({.name = "a", .condition = true});
  const NodeId x = circuit.input({.name = "x", .range = {-100, 100}});
  const NodeId from_seven = circuit.not_(circuit.age_at_most(circuit.age(circuit.first_tick(), false), 6));
  const NodeId stuck =
      circuit.choose(circuit.and_(a, circuit.equal(x, circuit.previous(x, 200))), x, circuit.constant(0));
  model.signals = {signal(a, dsl::SignalRole::hand), signal(from_seven), signal(circuit.not_(a)),
                   signal(stuck)};
  model.constraints.push_back(
      constraint(circuit.not_(circuit.and_(a, circuit.equal(x, circuit.previous(x, 200))))));
  model.overlaps.resize(2);
  model.overlaps[0].both = circuit.and_(a, from_seven);
  model.overlaps[1].both =
      circuit.and_(a, circuit.and_(circuit.equal(x, circuit.previous(x, 200)), from_seven));
  finish(model);
  const Report at_seven = check(model, 7);
  CHECK(at_seven.never_change == std::vector<std::uint32_t>{1, 3});
  CHECK_FALSE(at_seven.overlaps[0].run);
  const Report at_eight = check(model, 8);
  CHECK(at_eight.never_change == std::vector<std::uint32_t>{3});
  REQUIRE(at_eight.overlaps.size() == 2);
  REQUIRE(at_eight.overlaps[0].run);
  CHECK(at_eight.overlaps[0].run->ticks() == 8);
  CHECK_FALSE(at_eight.overlaps[1].run);

  solver::BoundedOptions options;
  options.within = 8;
  options.side_findings = false;
  const Report without = solver::check_bounded(model, options);
  CHECK(without.overlaps.empty());
  CHECK(without.never_change.empty());
}
