#include "solver/quiet.hpp"

#include <algorithm>
#include <utility>

namespace detent::solver {

using dsl::Circuit;
using dsl::Node;
using dsl::NodeId;
using dsl::NodeKind;
using dsl::Value;

namespace {

bool compares_clock(const Circuit& circuit, const Node& node) {
  return node.kind == NodeKind::less_equal && circuit.node(node.a).kind == NodeKind::age &&
         circuit.is_constant(node.b);
}

/// Clocks whose very value somebody looks at. Designs can't; circuits can.
std::vector<bool> counted_clocks(const Circuit& circuit) {
  std::vector<bool> counted(circuit.nodes().size(), false);
  for (const Node& node : circuit.nodes()) {
    if (compares_clock(circuit, node)) continue;
    for (const NodeId operand : {node.a, node.b, node.c}) {
      if (operand != dsl::no_node && circuit.node(operand).kind == NodeKind::age) counted[operand] = true;
    }
  }
  return counted;
}

}  // namespace

std::vector<std::vector<Value>> clock_limits(const Circuit& circuit) {
  std::vector<std::vector<Value>> limits(circuit.nodes().size());
  for (const Node& node : circuit.nodes()) {
    if (compares_clock(circuit, node)) {
      limits[node.a].push_back(circuit.node(node.b).number);
    }
  }
  for (std::vector<Value>& of_clock : limits) std::sort(of_clock.begin(), of_clock.end());
  return limits;
}

Quiet::Quiet(const Circuit& circuit) {
  std::vector<std::vector<Value>> limits = clock_limits(circuit);
  const std::vector<bool> counted = counted_clocks(circuit);
  for (NodeId id = 0; id < circuit.nodes().size(); ++id) {
    const Node& node = circuit.node(id);
    if (node.kind == NodeKind::previous) delays_.push_back({id, node.a});
    if (node.kind == NodeKind::age)
      clocks_.push_back({id, node.a, node.cap, std::move(limits[id]), counted[id]});
  }
}

Value Quiet::ahead(const std::vector<Value>& values, Value most) const {
  for (const Delay& delay : delays_) {
    if (values[delay.of] != values[delay.node]) return 0;
  }
  for (const Clock& clock : clocks_) {
    if (values[clock.event] != 0 || values[clock.node] == clock.cap) continue;
    if (clock.counted) return 0;
    const auto next = std::lower_bound(clock.limits.begin(), clock.limits.end(), values[clock.node]);
    if (next != clock.limits.end()) most = std::min(most, *next - values[clock.node]);
  }
  return most;
}

}  // namespace detent::solver
