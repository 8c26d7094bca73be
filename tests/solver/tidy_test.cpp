// A tidied run does the same with fewer movements.
#include "solver/tidy.hpp"

#include <algorithm>
#include <chrono>

#include "solver/interpreter.hpp"
#include "solver/rest.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/random_circuit.hpp"

using namespace detent;
using dsl::NodeId;
using dsl::Value;
using solver::Run;
using solver::Setting;

namespace {

std::size_t movements(const Run& run) {
  std::size_t count = 0;
  for (std::size_t tick = 1; tick < run.ticks(); ++tick) {
    for (std::size_t input = 0; input < run.inputs[tick].size(); ++input) {
      if (run.inputs[tick][input] != run.inputs[tick - 1][input]) ++count;
    }
  }
  return count;
}

/// Movements; a hand that stands elsewhere than at rest at power-up counts as one.
std::size_t cost(const dsl::Circuit& circuit, const Run& run) {
  const std::vector<Value> rest = solver::rest_positions(circuit);
  std::size_t count = movements(run);
  for (std::size_t input = 0; input < rest.size(); ++input)
    count += run.inputs[0][input] != rest[input] ? 1 : 0;
  return count;
}

std::size_t levels(const dsl::Circuit& circuit) {
  std::size_t count = 0;
  for (const dsl::CircuitInput& input : circuit.inputs()) count += input.condition ? 0 : 1;
  return count;
}

bool is_valid(const Setting& setting, NodeId watch, const Run& run) {
  if (!solver::is_well_formed(*setting.circuit, run)) return false;
  const solver::Trace trace = solver::replay(*setting.circuit, run);
  for (std::size_t tick = 0; tick < trace.ticks(); ++tick) {
    if ((trace.at(tick, watch) != 0) != (tick + 1 == trace.ticks())) return false;
    for (const NodeId kept : setting.constraints) {
      if (trace.at(tick, kept) == 0) return false;
    }
  }
  return true;
}

/// The beginning of the run up to where the constraints break or the node comes true; absent if it never
/// does.
std::optional<Run> cut(const Setting& setting, NodeId watch, const Run& run) {
  Run beginning;
  const solver::Trace trace = solver::replay(*setting.circuit, run);
  for (std::size_t tick = 0; tick < trace.ticks(); ++tick) {
    for (const NodeId kept : setting.constraints) {
      if (trace.at(tick, kept) == 0) return {};
    }
    beginning.inputs.push_back(run.inputs[tick]);
    if (trace.at(tick, watch) != 0) return beginning;
  }
  return {};
}

}  // namespace

TEST_CASE("tidying random runs keeps their length, their end and the constraints, and adds no movement") {
  std::size_t tidied_runs = 0;
  std::size_t before = 0;
  std::size_t after = 0;
  for (std::uint64_t seed = 0; seed < 150; ++seed) {
    const test::RandomCircuit made = test::random_circuit(seed);
    const Setting setting{&made.circuit, made.constraints};
    test::Chance chance(seed);
    INFO("seed " << seed << '\n' << dsl::to_text(made.circuit));
    for (const NodeId watch : made.conditions) {
      const auto run = cut(setting, watch, test::random_run(made.circuit, 30, chance));
      if (!run) continue;
      const Run calm = solver::tidied(setting, watch, *run);
      REQUIRE(calm.ticks() == run->ticks());
      REQUIRE(is_valid(setting, watch, calm));
      // A large value at the end may cost each level a movement more.
      REQUIRE(cost(made.circuit, calm) <= cost(made.circuit, *run) + levels(made.circuit));
      ++tidied_runs;
      before += movements(*run);
      after += movements(calm);
    }
  }
  CHECK(tidied_runs > 300);
  CHECK(after * 3 < before);
}

TEST_CASE("only the movements that matter are left, with plain values") {
  dsl::Circuit circuit;
  const NodeId thrust = circuit.input({.name = "thrust", .range = {-100, 100}});
  const NodeId button = circuit.input({.name = "button", .condition = true});
  circuit.input({.name = "idle hand", .range = {-100, 100}, .step = 5});
  const NodeId pressed_once = circuit.age_at_most(circuit.age(button, false), 1'000'000);
  const NodeId was_low =
      circuit.age_at_most(circuit.age(circuit.less_equal(thrust, circuit.constant(-98)), false), 40);
  const NodeId watch =
      circuit.and_(circuit.and_(pressed_once, was_low), circuit.less_equal(circuit.constant(37), thrust));
  REQUIRE(circuit.finish().empty());
  const Setting setting{&circuit, {}};
  test::Chance chance(5);
  Run run = test::random_run(circuit, 60, chance);
  for (std::size_t tick = 0; tick < 60; ++tick) {
    run.inputs.set(tick, tick + 1, 0, std::min<Value>(run.inputs[tick][0], 30));
  }
  run.inputs.set(40, 41, 0, -99);
  run.inputs.set(50, 51, 1, 1);
  run.inputs.set(59, 60, 0, 63);
  REQUIRE(is_valid(setting, watch, run));
  const Run calm = solver::tidied(setting, watch, run);
  CHECK(movements(calm) == 3);  // the stick goes down and up, the button is pressed
  CHECK(calm.inputs.front() == std::vector<Value>{0, 0, 0});
  const auto& stretches = calm.inputs.stretches();
  CHECK(std::any_of(stretches.begin(), stretches.end(), [](const solver::Rows::Stretch& stretch) {
    return stretch.row == std::vector<Value>{-100, 0, 0};
  }));
  CHECK(calm.inputs.back()[0] == 100);
  CHECK(calm.inputs.front()[2] == calm.inputs.back()[2]);
}

TEST_CASE("hands rest where the circuit itself puts a constant in their place, else at 0") {
  dsl::Circuit circuit;
  const NodeId live = circuit.input({.name = "live", .condition = true});
  const NodeId thrust = circuit.input({.name = "thrust", .range = {-100, 100}});
  const NodeId rudder = circuit.input({.name = "rudder", .range = {-100, 100}});
  circuit.input({.name = "pulse", .range = {1000, 2000}, .step = 10});
  circuit.choose(live, thrust, circuit.constant(-100));
  const NodeId most = circuit.constant(50);
  circuit.choose(circuit.less_equal(rudder, most), rudder, most);  // the smaller of two: not in its place
  CHECK(solver::rest_positions(circuit) == std::vector<Value>{0, -100, 0, 1500});
}

TEST_CASE("what goes wrong is large: the stick moves on in the last tick rather than stand a little off") {
  dsl::Circuit circuit;
  const NodeId thrust = circuit.input({.name = "thrust", .range = {-100, 100}});
  const NodeId locked = circuit.input({.name = "locked", .condition = true});
  const NodeId stop = circuit.constant(-100);
  circuit.choose(locked, stop, thrust);
  const NodeId was_idle = circuit.previous(circuit.less_equal(thrust, circuit.constant(-99)), 0);
  const NodeId watch = circuit.and_(was_idle, circuit.not_(circuit.equal(thrust, stop)));
  REQUIRE(circuit.finish().empty());
  const Run run{{{5, 1}, {5, 0}, {-99, 1}, {-99, 0}}};
  REQUIRE(is_valid({&circuit, {}}, watch, run));
  const Run calm = solver::tidied({&circuit, {}}, watch, run);
  CHECK(calm.inputs == solver::Rows{{-100, 0}, {-100, 0}, {-100, 0}, {100, 0}});
}

TEST_CASE("a run of a thousand ticks is tidied in well under a second") {
  dsl::Circuit circuit;
  std::vector<NodeId> sticks;
  NodeId all = circuit.truth(true);
  for (int count = 0; count < 6; ++count) {
    const NodeId stick = circuit.input({.name = "stick", .range = {-100, 100}});
    const NodeId low = circuit.less_equal(stick, circuit.constant(-90));
    all = circuit.and_(all, circuit.age_at_most(circuit.age(low, false), 900));
    all = circuit.and_(all, circuit.not_(low));
    const NodeId moved = circuit.add(stick, circuit.times(-1, circuit.previous(stick, 0)));
    all = circuit.or_(circuit.and_(all, circuit.less_equal(moved, circuit.constant(-500))), all);
  }
  const NodeId late = circuit.not_(circuit.age_at_most(circuit.age(circuit.first_tick(), false), 998));
  const NodeId watch = circuit.and_(all, late);
  REQUIRE(circuit.finish().empty());
  const Setting setting{&circuit, {}};
  test::Chance chance(9);
  Run run = test::random_run(circuit, 1000, chance);
  for (std::size_t input = 0; input < 6; ++input) run.inputs.set(999, 1000, input, 50);
  REQUIRE(is_valid(setting, watch, run));
  const auto start = std::chrono::steady_clock::now();
  const Run calm = solver::tidied(setting, watch, run);
  const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  CHECK(is_valid(setting, watch, calm));
  CHECK(movements(calm) <= 12);
  WARN("tidied " << movements(run) << " movements to " << movements(calm) << " in " << seconds << " s");
  CHECK(seconds < 3);  // the machine may be busy
}
