// A run: what the inputs did, tick by tick. Everything else about a run follows from it by the interpreter.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "dsl/circuit.hpp"

namespace detent::solver {

using dsl::NodeId;
using dsl::Value;

/// inputs[t][i] is the value of Circuit::inputs()[i] at tick t.
struct Run {
  std::vector<std::vector<Value>> inputs;
  [[nodiscard]] std::size_t ticks() const { return inputs.size(); }
};

/// Every node's value at every tick: values[t][node].
struct Trace {
  std::vector<std::vector<Value>> values;
  /// Where hours of quiet are kept as one row: for each tick its row in `values`. Empty: row t is tick t.
  std::vector<std::uint32_t> rows = {};
  [[nodiscard]] Value at(std::size_t tick, NodeId node) const {
    return values[rows.empty() ? tick : rows[tick]][node];
  }
  [[nodiscard]] std::size_t ticks() const { return rows.empty() ? values.size() : rows.size(); }
};

}  // namespace detent::solver
