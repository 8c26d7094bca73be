// The encoding against the interpreter: random circuits, random runs, every node that is encoded, at every
// tick. No solver is needed for it: the gates are evaluated as they stand.
#include "solver/encode.hpp"

#include "solver/cone.hpp"
#include "solver/interpreter.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/random_circuit.hpp"

using namespace detent;
using dsl::NodeId;
using dsl::Value;
using solver::Encoding;
using solver::Gates;

namespace {

std::size_t variables_in(const Gates& gates) {
  std::size_t count = 0;
  for (std::uint32_t number = 0; number < gates.size(); ++number) {
    if (gates.gate(number).kind == solver::GateKind::variable) ++count;
  }
  return count;
}

bool all_true(const std::vector<solver::Literal>& facts, const std::vector<bool>& values) {
  for (const solver::Literal fact : facts) {
    if (!solver::value_of(fact, values)) return false;
  }
  return true;
}

/// Unrolls, choosing random values for the variables of each tick until its facts are true.
std::vector<bool> unroll_at_random(Encoding& encoding, std::size_t ticks, test::Chance& chance) {
  std::vector<bool> variables;
  for (std::size_t tick = 0; tick < ticks; ++tick) {
    encoding.add_tick();
    const std::size_t before = variables.size();
    variables.resize(variables_in(encoding.gates()));
    do {
      for (std::size_t index = before; index < variables.size(); ++index) variables[index] = chance.one_in(2);
    } while (!all_true(encoding.facts(), solver::evaluate(encoding.gates(), variables)));
  }
  return variables;
}

std::optional<std::string> compare(const dsl::Circuit& encoded, const std::vector<NodeId>& conditions,
                                   const dsl::Circuit& interpreted, std::size_t ticks, test::Chance& chance) {
  Encoding encoding(encoded, conditions);
  const std::vector<bool> variables = unroll_at_random(encoding, ticks, chance);
  const std::vector<bool> values = solver::evaluate(encoding.gates(), variables);
  const solver::Run run = encoding.run(values, ticks);
  if (!solver::is_well_formed(encoded, run)) return "the run is not well formed";
  return encoding.disagreement(solver::replay(interpreted, run), values,
                               std::vector<bool>(values.size(), true));
}

}  // namespace

TEST_CASE("the encoding and the interpreter agree on every node of random circuits") {
  for (std::uint64_t seed = 0; seed < 600; ++seed) {
    const test::RandomCircuit made = test::random_circuit(seed);
    test::Chance chance(seed);
    INFO("seed " << seed << '\n' << dsl::to_text(made.circuit));
    for (int run = 0; run < 3; ++run) {
      const auto difference = compare(made.circuit, made.conditions, made.circuit, 12, chance);
      INFO(difference.value_or(""));
      REQUIRE_FALSE(difference);
    }
  }
}

namespace {

/// Compares every number with a stick of many values, so that all of them need digits.
void force_digits(test::RandomCircuit& made) {
  dsl::Circuit& circuit = made.circuit;
  const auto count = static_cast<NodeId>(circuit.nodes().size());
  const NodeId wide = circuit.input({.name = "wide", .range = {-90, 90}, .step = 3});
  for (NodeId id = 0; id < count; ++id) {
    if (!circuit.node(id).condition) made.conditions.push_back(circuit.less_equal(id, wide));
  }
  REQUIRE(circuit.finish().empty());
}

std::size_t count_digits(const test::RandomCircuit& made) {
  std::size_t count = 0;
  for (const solver::Need& need : solver::cone_of(made.circuit, made.conditions).needs)
    count += need.digits ? 1 : 0;
  return count;
}

}  // namespace

TEST_CASE("they agree where all numbers have digits") {
  std::size_t digits = 0;
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    test::RandomCircuit made = test::random_circuit(seed);
    force_digits(made);
    digits += count_digits(made);
    test::Chance chance(seed);
    INFO("seed " << seed << '\n' << dsl::to_text(made.circuit));
    const auto difference = compare(made.circuit, made.conditions, made.circuit, 8, chance);
    INFO(difference.value_or(""));
    REQUIRE_FALSE(difference);
  }
  CHECK(digits > 1000);
}

TEST_CASE("the conditions asked for have the interpreter's values") {
  for (std::uint64_t seed = 0; seed < 100; ++seed) {
    const test::RandomCircuit made = test::random_circuit(seed);
    test::Chance chance(seed);
    Encoding encoding(made.circuit, made.conditions);
    const std::vector<bool> values =
        solver::evaluate(encoding.gates(), unroll_at_random(encoding, 8, chance));
    const solver::Trace trace = solver::replay(made.circuit, encoding.run(values, 8));
    for (std::size_t tick = 0; tick < 8; ++tick) {
      for (const NodeId node : made.conditions) {
        INFO("seed " << seed << ", node " << node << ", tick " << tick << '\n' << dsl::to_text(made.circuit));
        REQUIRE(solver::value_of(encoding.condition(node, tick), values) == (trace.at(tick, node) != 0));
      }
    }
  }
}

namespace {

/// A clock over one button that is compared with a time and, in binary, with a stick.
dsl::Circuit clock(bool just_before_start, Value time, Value factor, Value start) {
  dsl::Circuit circuit;
  const NodeId button = circuit.input({.name = "button", .condition = true});
  const NodeId stick = circuit.input({.name = "stick", .range = {-4, 4}, .step = 2});
  const NodeId age = circuit.age(button, just_before_start);
  const NodeId soon = circuit.age_at_most(age, time);
  const NodeId scaled = circuit.times(factor, circuit.previous(stick, start));
  const NodeId both = circuit.and_(soon, circuit.less_equal(scaled, age));
  static_cast<void>(both);
  static_cast<void>(circuit.finish());
  return circuit;
}

bool is_noticed(const dsl::Circuit& right, const dsl::Circuit& wrong) {
  test::Chance chance(3);
  const auto last = static_cast<NodeId>(right.nodes().size() - 1);
  for (int run = 0; run < 20; ++run) {
    if (compare(right, {last}, wrong, 12, chance)) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("a fault in one of the two readings is noticed") {
  const dsl::Circuit right = clock(false, 3, 2, 0);
  CHECK_FALSE(is_noticed(right, clock(false, 3, 2, 0)));
  CHECK(is_noticed(right, clock(false, 4, 2, 0)));   // a clock that stops a tick later
  CHECK(is_noticed(right, clock(true, 3, 2, 0)));    // another start
  CHECK(is_noticed(right, clock(false, 3, 3, 0)));   // another factor
  CHECK(is_noticed(right, clock(false, 3, 2, -2)));  // another value before the first tick
}

TEST_CASE("a number that meets only fixed numbers gets thresholds, another one digits") {
  dsl::Circuit circuit;
  const NodeId x = circuit.input({.name = "x", .range = {-100, 100}});
  const NodeId y = circuit.input({.name = "y", .range = {-100, 100}, .step = 5});
  const NodeId low = circuit.less_equal(circuit.add(x, circuit.constant(3)), circuit.constant(-95));
  const NodeId grid = circuit.less_equal(y, circuit.constant(13));
  const NodeId between = circuit.less_equal(x, y);
  REQUIRE(circuit.finish().empty());

  const solver::Cone alone = solver::cone_of(circuit, {low, grid});
  CHECK(alone.needs[x].thresholds == std::vector<Value>{-98});
  CHECK(alone.needs[y].thresholds == std::vector<Value>{10});
  CHECK_FALSE(alone.needs[x].digits);
  CHECK_FALSE(alone.needs[between].any);

  const solver::Cone together = solver::cone_of(circuit, {low, between});
  CHECK(together.needs[x].digits);
  CHECK(together.needs[y].digits);
  CHECK_FALSE(together.needs[grid].any);
}

TEST_CASE("dividing a limit rounds to the right side") {
  for (const Value factor : {-3, -2, -1, 1, 2, 3}) {
    for (Value limit = -10; limit <= 10; ++limit) {
      const solver::Quotient part = solver::quotient(factor, limit);
      for (Value x = -20; x <= 20; ++x) {
        REQUIRE((factor * x <= limit) == ((x <= part.limit) == part.at_most));
      }
    }
  }
}
