#include "solver/slice.hpp"

#include "dsl/copy.hpp"

namespace detent::solver {

using dsl::Circuit;
using dsl::no_node;
using dsl::Node;

std::vector<bool> influence(const Circuit& circuit, const std::vector<NodeId>& conditions) {
  std::vector<bool> marks(circuit.nodes().size(), false);
  std::vector<NodeId> open;
  const auto visit = [&](NodeId id) {
    if (id != no_node && !marks[id]) {
      marks[id] = true;
      open.push_back(id);
    }
  };
  for (const NodeId id : conditions) {
    visit(id);
  }
  while (!open.empty()) {
    const Node& node = circuit.node(open.back());
    open.pop_back();
    visit(node.a);
    visit(node.b);
    visit(node.c);
  }
  return marks;
}

Slice slice(const Circuit& whole, const std::vector<NodeId>& conditions) {
  Slice slice;
  std::vector<NodeId> loops;
  const auto place_input = [&](std::size_t index) {
    slice.inputs.push_back(index);
    return slice.circuit.input(whole.inputs()[index]);
  };
  const auto open_loop = [&](NodeId id) {
    loops.push_back(id);
    return slice.circuit.open_previous(whole.node(id).condition, whole.node(id).number);
  };
  slice.node_of =
      dsl::copy_nodes(whole, slice.circuit, {place_input, open_loop, influence(whole, conditions)});
  for (const NodeId id : loops) {
    slice.circuit.connect(slice.node_of[id], slice.node_of[whole.node(id).a]);
  }
  // What was bounded as a whole is bounded in part.
  static_cast<void>(slice.circuit.finish());
  slice.whole_of.assign(slice.circuit.nodes().size(), no_node);
  for (NodeId id = 0; id < whole.nodes().size(); ++id) {
    if (slice.node_of[id] != no_node) {
      slice.whole_of[slice.node_of[id]] = id;
    }
  }
  return slice;
}

Run widen(const Run& run, const Slice& slice, const Circuit& whole) {
  Run wide;
  std::vector<Value> row;
  for (const dsl::CircuitInput& input : whole.inputs()) {
    row.push_back(input.range.low);
  }
  for (const Rows::Stretch& stretch : run.inputs.stretches()) {
    for (std::size_t index = 0; index < stretch.row.size(); ++index) {
      row[slice.inputs[index]] = stretch.row[index];
    }
    wide.inputs.push_back(row, stretch.end - wide.ticks());
  }
  return wide;
}

}  // namespace detent::solver
