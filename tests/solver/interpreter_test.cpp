// Each node kind on its own, tick by tick, against the rule in dsl/circuit.hpp.
#include "solver/interpreter.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/random_circuit.hpp"

using namespace detent;
using dsl::Circuit;
using dsl::NodeId;
using dsl::Value;

namespace {

/// The node's value at each tick, with one row of inputs for each.
std::vector<Value> row_of(const Circuit& circuit, NodeId node,
                          const std::vector<std::vector<Value>>& inputs) {
  std::vector<Value> values;
  const solver::Trace trace = solver::replay(circuit, {inputs});
  for (std::size_t tick = 0; tick < trace.ticks(); ++tick) values.push_back(trace.at(tick, node));
  return values;
}

std::vector<std::vector<Value>> ticks_of(const std::vector<Value>& values) {
  std::vector<std::vector<Value>> rows;
  for (const Value value : values) rows.push_back({value});
  return rows;
}

using Row = std::vector<Value>;
const std::vector<std::vector<Value>> truth_table{{0, 0}, {0, 1}, {1, 0}, {1, 1}};

}  // namespace

TEST_CASE("gates follow their truth tables") {
  Circuit circuit;
  const NodeId a = circuit.input({.name = "a", .condition = true});
  const NodeId b = circuit.input({.name = "b", .condition = true});
  CHECK(row_of(circuit, circuit.not_(a), truth_table) == Row{1, 1, 0, 0});
  CHECK(row_of(circuit, circuit.and_(a, b), truth_table) == Row{0, 0, 0, 1});
  CHECK(row_of(circuit, circuit.or_(a, b), truth_table) == Row{0, 1, 1, 1});
  CHECK(row_of(circuit, circuit.implies(a, b), truth_table) == Row{1, 1, 0, 1});
  CHECK(row_of(circuit, circuit.equal(a, b), truth_table) == Row{1, 0, 0, 1});
  CHECK(row_of(circuit, circuit.choose(a, b, circuit.not_(b)), truth_table) == Row{1, 0, 0, 1});
  CHECK(row_of(circuit, circuit.truth(true), truth_table) == Row{1, 1, 1, 1});
}

TEST_CASE("numbers are compared, added, multiplied and chosen") {
  Circuit circuit;
  const NodeId x = circuit.input({.name = "x", .range = {-3, 3}});
  const NodeId y = circuit.input({.name = "y", .range = {-3, 3}});
  const std::vector<std::vector<Value>> inputs{{-3, 2}, {2, 2}, {3, -1}};
  CHECK(row_of(circuit, circuit.equal(x, y), inputs) == Row{0, 1, 0});
  CHECK(row_of(circuit, circuit.less_equal(x, y), inputs) == Row{1, 1, 0});
  CHECK(row_of(circuit, circuit.less(x, y), inputs) == Row{1, 0, 0});
  CHECK(row_of(circuit, circuit.add(x, y), inputs) == Row{-1, 4, 2});
  CHECK(row_of(circuit, circuit.times(-2, x), inputs) == Row{6, -4, -6});
  CHECK(row_of(circuit, circuit.choose(circuit.less_equal(x, y), x, y), inputs) == Row{-3, 2, -1});
}

TEST_CASE("previous starts with its number and then lags by one tick") {
  Circuit circuit;
  const NodeId x = circuit.input({.name = "x", .range = {0, 9}});
  CHECK(row_of(circuit, circuit.previous(x, 7), ticks_of({1, 2, 3})) == Row{7, 1, 2});
}

TEST_CASE("previous may close a loop over a later node") {
  Circuit circuit;
  const NodeId step = circuit.input({.name = "step", .range = {0, 3}});
  const NodeId before = circuit.open_previous(false, 0);
  const NodeId sum = circuit.add(before, step);
  circuit.connect(before, sum);
  CHECK(row_of(circuit, sum, ticks_of({1, 2, 0, 3})) == Row{1, 3, 3, 6});
}

TEST_CASE("an age counts from the last tick, saturates, and starts as told") {
  Circuit circuit;
  const NodeId a = circuit.input({.name = "a", .condition = true});
  const NodeId never = circuit.age(a, false);
  const NodeId just_now = circuit.age(a, true);
  for (const NodeId age : {never, just_now}) static_cast<void>(circuit.age_at_most(age, 2));
  const auto inputs = ticks_of({0, 0, 1, 0, 0, 0, 0, 1, 1});
  CHECK(row_of(circuit, never, inputs) == Row{3, 3, 0, 1, 2, 3, 3, 0, 0});
  CHECK(row_of(circuit, just_now, inputs) == Row{1, 2, 0, 1, 2, 3, 3, 0, 0});
  CHECK(row_of(circuit, circuit.age_at_most(never, 1), inputs) == Row{0, 0, 1, 1, 0, 0, 0, 1, 1});
  CHECK(row_of(circuit, circuit.age_at_most(just_now, 1), inputs) == Row{1, 0, 1, 1, 0, 0, 0, 1, 1});
}

TEST_CASE("the first tick is known as such") {
  Circuit circuit;
  circuit.input({.name = "a", .condition = true});
  CHECK(row_of(circuit, circuit.first_tick(), ticks_of({0, 1, 0})) == Row{1, 0, 0});
}

TEST_CASE("machines with equal memory go on alike") {
  using detent::test::Chance;
  for (std::uint64_t seed = 0; seed < 50; ++seed) {
    const test::RandomCircuit made = test::random_circuit(seed);
    Chance chance(seed);
    INFO("seed " << seed << '\n' << dsl::to_text(made.circuit));
    std::vector<solver::Interpreter> machines;
    for (int count = 0; count < 20; ++count) {
      machines.emplace_back(made.circuit);
      const solver::Run run = test::random_run(made.circuit, 1 + chance.below(6), chance);
      for (std::size_t tick = 0; tick < run.ticks(); ++tick) {
        machines.back().step(run.inputs[tick]);
      }
    }
    const auto row = test::random_run(made.circuit, 1, chance).inputs.front();
    for (const solver::Interpreter& one : machines) {
      for (const solver::Interpreter& other : machines) {
        if (one.memory() != other.memory()) continue;
        solver::Interpreter left = one;
        solver::Interpreter right = other;
        REQUIRE(left.step(row) == right.step(row));
      }
    }
  }
}

TEST_CASE("every value lies in the range that the circuit gives its node") {
  for (std::uint64_t seed = 0; seed < 300; ++seed) {
    const test::RandomCircuit made = test::random_circuit(seed);
    test::Chance chance(seed);
    INFO("seed " << seed << '\n' << dsl::to_text(made.circuit));
    const solver::Trace trace = solver::replay(made.circuit, test::random_run(made.circuit, 30, chance));
    for (const auto& [tick, values] : trace.moments()) {
      for (NodeId id = 0; id < values.size(); ++id) {
        const dsl::Range range = made.circuit.node(id).range;
        REQUIRE(range.low <= values[id]);
        REQUIRE(values[id] <= range.high);
      }
    }
  }
}

TEST_CASE("a run with a value off the grid or a missing input is not well formed") {
  Circuit circuit;
  circuit.input({.name = "x", .range = {-4, 4}, .step = 2});
  CHECK(solver::is_well_formed(circuit, {{{-4}, {0}, {4}}}));
  CHECK_FALSE(solver::is_well_formed(circuit, {{{-4}, {1}}}));
  CHECK_FALSE(solver::is_well_formed(circuit, {{{6}}}));
  CHECK_FALSE(solver::is_well_formed(circuit, {{{-6}}}));
  CHECK_FALSE(solver::is_well_formed(circuit, {{{}}}));
  CHECK_FALSE(solver::is_well_formed(circuit, {{{0, 0}}}));
  CHECK(solver::is_well_formed(circuit, {}));
}
