// A run: what the inputs did, tick by tick. Everything else about a run follows from it by the interpreter.
#pragma once

#include <cstddef>
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
  [[nodiscard]] Value at(std::size_t tick, NodeId node) const { return values[tick][node]; }
  [[nodiscard]] std::size_t ticks() const { return values.size(); }
};

}  // namespace detent::solver
