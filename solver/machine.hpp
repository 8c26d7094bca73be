// A slice of a design as a machine: what it remembers, what may never happen, and how long it can be left
// alone. The engines that skip quiet time and prove for all time work on this; solver/steps.hpp puts it to
// Z3.
#pragma once

#include <compare>
#include <map>
#include <optional>
#include <vector>

#include "dsl/circuit.hpp"
#include "dsl/model.hpp"
#include "solver/interpreter.hpp"
#include "solver/quiet.hpp"
#include "solver/slice.hpp"

namespace detent::solver {

/// One thing that is remembered from tick to tick.
struct Memory {
  NodeId node = dsl::no_node;  ///< a `previous` or an `age`
  bool condition = false;
  bool clock = false;
  Value start = 0;   ///< before tick 0
  dsl::Range range;  ///< all values it can have
  /// Clocks: the numbers it is compared with, ascending. `age <= limit` is all that anybody asks of a clock.
  std::vector<Value> limits = {};
};

/// A rate-limited channel that can move on while nothing else happens: whatever looks at it compares it, or
/// something computed from it alone, and nothing remembers it.
struct Ramp {
  std::size_t input = 0;
  NodeId before = dsl::no_node;      ///< the `previous` that the rate limit looks at, and nothing else does
  Value most = 0;                    ///< per tick
  std::vector<NodeId> carried = {};  ///< numbers computed from it, in evaluation order, itself included
  std::vector<NodeId> readers = {};  ///< conditions that look at those
};

/// A number that differs from one value of a tunable to the next, evenly over the grid of values.
struct Even {
  Value base = 0, per_row = 0, per_column = 0;
  [[nodiscard]] Value at(Value row, Value column) const { return base + per_row * row + per_column * column; }
  friend auto operator<=>(const Even&, const Even&) = default;  // NOLINT(modernize-use-nullptr): 0 is its own
};

struct Machine {
  const dsl::Circuit* circuit = nullptr;  ///< of a slice that outlives the machine
  std::vector<NodeId> constraints = {};   ///< true at every tick
  Quiet quiet;
  std::vector<Memory> memories = {};
  std::vector<Ramp> ramps = {};
  /// By node, or empty: nodes that are cut loose, so that they take any value in their range at every tick.
  /// What is proved with nodes cut loose does not rest on how they are made. Used by solver/why.hpp only.
  std::vector<bool> cut = {};
  /// Numbers of the circuit that stand for unknowns, or null. Used by solver/family.hpp only.
  const std::map<Value, Even>* unknown = nullptr;
};

/// The slice of a model that these conditions and all constraints depend on. Rate limits of channels that
/// none of them looks at are left out: they can always be kept.
[[nodiscard]] Slice slice_for(const dsl::Model& model, const std::vector<NodeId>& conditions);

[[nodiscard]] Machine machine_of(const Slice& slice, const dsl::Model& model,
                                 const std::vector<NodeId>& conditions);

}  // namespace detent::solver
