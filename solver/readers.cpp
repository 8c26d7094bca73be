#include "solver/readers.hpp"

#include <algorithm>

#include "solver/slice.hpp"

namespace detent::solver {

using dsl::Circuit;
using dsl::no_node;
using dsl::Node;
using dsl::NodeId;
using dsl::NodeKind;

namespace {

bool remembers(const Node& node) {
  return node.kind == NodeKind::previous || node.kind == NodeKind::age;
}

/// For every node whether it is a function of this input alone, in the same tick, and not a constant.
std::vector<bool> functions_of(const Circuit& circuit, NodeId input) {
  std::vector<bool> depends(circuit.nodes().size(), false);
  std::vector<bool> only(circuit.nodes().size(), false);
  for (NodeId id = 0; id < circuit.nodes().size(); ++id) {
    const Node& node = circuit.node(id);
    if (id == input) {
      depends[id] = only[id] = true;
      continue;
    }
    if (remembers(node) || node.kind == NodeKind::input || node.kind == NodeKind::constant) continue;
    bool any = false;
    bool all = true;
    for (const NodeId operand : {node.a, node.b, node.c}) {
      if (operand == no_node) continue;
      any = any || depends[operand];
      all = all && (only[operand] || circuit.is_constant(operand));
    }
    depends[id] = any;
    only[id] = any && all;
  }
  return only;
}

}  // namespace

std::optional<std::vector<NodeId>> readers_of(const Circuit& circuit, NodeId input,
                                              const std::vector<NodeId>& roots) {
  const std::vector<bool> seen = influence(circuit, roots);
  const std::vector<bool> only = functions_of(circuit, input);
  // Looked at from outside: by a root, or by something that is no function of the input alone.
  std::vector<NodeId> readers;
  const auto look_at = [&](NodeId id) {
    if (id != no_node && only[id] && std::find(readers.begin(), readers.end(), id) == readers.end()) {
      readers.push_back(id);
    }
  };
  for (const NodeId root : roots) look_at(root);
  for (NodeId id = 0; id < circuit.nodes().size(); ++id) {
    if (!seen[id] || only[id]) continue;
    const Node& node = circuit.node(id);
    for (const NodeId operand : {node.a, node.b, node.c}) look_at(operand);
  }
  const bool value_is_seen =
      std::any_of(readers.begin(), readers.end(), [&](NodeId id) { return !circuit.node(id).condition; });
  if (value_is_seen) return std::nullopt;
  return readers;
}

}  // namespace detent::solver
