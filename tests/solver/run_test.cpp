// Rows and traces that are kept by stretches, against plain tables with a row for each tick.
#include "solver/run.hpp"

#include "solver/interpreter.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/random_circuit.hpp"

namespace {

using detent::dsl::Value;
using detent::solver::Interpreter;
using detent::solver::Rows;
using detent::solver::Run;
using detent::solver::Trace;
using detent::test::Chance;
using Table = std::vector<Rows::Row>;

void require_same(const Rows& rows, const Table& table) {
  REQUIRE(rows.size() == table.size());
  REQUIRE(rows.empty() == table.empty());
  for (std::size_t tick = 0; tick < table.size(); ++tick) REQUIRE(rows[tick] == table[tick]);
  std::size_t begin = 0;
  for (std::size_t index = 0; index < rows.stretches().size(); ++index) {
    const Rows::Stretch& stretch = rows.stretches()[index];
    REQUIRE(stretch.end > begin);
    if (index > 0) REQUIRE(stretch.row != rows.stretches()[index - 1].row);
    for (; begin < stretch.end; ++begin) REQUIRE(rows.end_of(begin) == stretch.end);
  }
}

TEST_CASE("rows by stretches are the rows that were put in") {
  for (std::uint64_t seed = 0; seed < 300; ++seed) {
    INFO("seed " << seed);
    Chance chance(seed);
    Rows rows;
    Table table;
    for (int change = 0; change < 20; ++change) {
      const std::size_t kind = chance.below(8);
      if (kind < 4) {
        const Rows::Row row{chance.between(0, 1), chance.between(0, 1)};
        const std::size_t ticks = chance.below(5);
        rows.push_back(row, ticks);
        table.insert(table.end(), ticks, row);
      } else if (kind == 4 && !table.empty()) {
        const std::size_t ticks = table.size() + chance.below(4);
        rows.extend_to(ticks);
        table.resize(ticks, table.back());
      } else if (kind == 5) {
        const std::size_t ticks = chance.below(table.size() + 1);
        rows.cut(ticks);
        table.resize(ticks);
      } else if (!table.empty()) {
        const std::size_t begin = chance.below(table.size() + 1);
        const std::size_t end = begin + chance.below(table.size() - begin + 1);
        const std::size_t input = chance.below(2);
        const Value value = chance.between(0, 1);
        rows.set(begin, end, input, value);
        for (std::size_t tick = begin; tick < end; ++tick) table[tick][input] = value;
      }
      require_same(rows, table);
    }
  }
}

/// Hands that mostly rest.
Run slow_run(const detent::dsl::Circuit& circuit, Chance& chance) {
  Run run;
  for (int stretch = 0; stretch < 6; ++stretch) {
    run.inputs.push_back(detent::test::random_run(circuit, 1, chance).inputs.front(), 1 + chance.below(12));
  }
  return run;
}

TEST_CASE("a trace that skips quiet time has at every tick the values that the interpreter has tick by tick") {
  std::size_t skipped = 0;
  for (std::uint64_t seed = 0; seed < 2000; ++seed) {
    const detent::test::RandomCircuit made = detent::test::random_circuit(seed);
    Chance chance(seed);
    const Run run = slow_run(made.circuit, chance);
    const Trace trace = detent::solver::replay(made.circuit, run);
    INFO("seed " << seed << '\n' << detent::dsl::to_text(made.circuit));
    REQUIRE(trace.ticks() == run.ticks());
    skipped += run.ticks() - trace.moments().size();
    Interpreter machine(made.circuit);
    std::vector<std::size_t> since(made.circuit.nodes().size(), 0);
    std::vector<Value> before;
    for (std::size_t tick = 0; tick < run.ticks(); ++tick) {
      const std::vector<Value> values = machine.step(run.inputs[tick]);
      for (detent::dsl::NodeId node = 0; node < values.size(); ++node) {
        REQUIRE(trace.at(tick, node) == values[node]);
        if (tick > 0 && values[node] != before[node]) since[node] = tick;
        const bool clock = made.circuit.node(node).kind == detent::dsl::NodeKind::age;
        if (!clock) REQUIRE(trace.since(tick, node) == since[node]);
      }
      before = values;
    }
  }
  CHECK(skipped > 10'000);  // else the test has looked at nothing
}

}  // namespace
