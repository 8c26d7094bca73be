// A slice: the part of a circuit that some of its conditions depend on, as a circuit of its own.
// Engines work on slices, so that a clock that a claim does not look at costs it nothing.
#pragma once

#include <cstddef>
#include <vector>

#include "dsl/circuit.hpp"
#include "solver/run.hpp"

namespace detent::solver {

struct Slice {
  dsl::Circuit circuit;
  std::vector<NodeId> node_of;       ///< by node of the whole circuit; dsl::no_node where it was left out
  std::vector<NodeId> whole_of;      ///< by node of the slice
  std::vector<std::size_t> inputs;   ///< by input of the slice: its index in the whole circuit
};

[[nodiscard]] Slice slice(const dsl::Circuit& whole, const std::vector<NodeId>& conditions);

/// The nodes that these depend on, themselves included, through time as well; one mark for each node.
[[nodiscard]] std::vector<bool> influence(const dsl::Circuit& circuit, const std::vector<NodeId>& conditions);

/// A run of the slice as a run of the whole; inputs that were left out stay at their lowest value.
[[nodiscard]] Run widen(const Run& run, const Slice& slice, const dsl::Circuit& whole);

}  // namespace detent::solver
