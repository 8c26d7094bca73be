#include "solver/machine.hpp"

#include <algorithm>
#include <utility>

namespace detent::solver {

using dsl::Circuit;
using dsl::no_node;
using dsl::Node;
using dsl::NodeKind;

namespace {

std::vector<NodeId> hard_constraints(const dsl::Model& model) {
  std::vector<NodeId> nodes;
  for (const dsl::Constraint& constraint : model.constraints) {
    if (!constraint.rate) {
      nodes.push_back(constraint.node);
    }
  }
  return nodes;
}

std::vector<NodeId> joined(std::vector<NodeId> one, const std::vector<NodeId>& other) {
  one.insert(one.end(), other.begin(), other.end());
  return one;
}

std::vector<Memory> memories_of(const Circuit& circuit) {
  std::vector<Memory> memories;
  std::vector<std::vector<Value>> limits = clock_limits(circuit);
  for (NodeId id = 0; id < circuit.nodes().size(); ++id) {
    const Node& node = circuit.node(id);
    if (node.kind == NodeKind::previous) {
      memories.push_back(
          {.node = id, .condition = node.condition, .start = node.number, .range = node.range});
    } else if (node.kind == NodeKind::age) {
      memories.push_back({.node = id,
                          .clock = true,
                          .start = node.number != 0 ? 0 : node.cap,
                          .range = {0, node.cap},
                          .limits = std::move(limits[id])});
    }
  }
  return memories;
}

bool reads(const Node& node, const std::vector<bool>& marks) {
  const auto is = [&](NodeId id) { return id != no_node && marks[id]; };
  return is(node.a) || is(node.b) || is(node.c);
}

/// Marks the numbers that are computed from `input` in the same tick.
std::vector<bool> carried_by(const Circuit& circuit, NodeId input) {
  std::vector<bool> marks(circuit.nodes().size(), false);
  marks[input] = true;
  for (NodeId id = 0; id < circuit.nodes().size(); ++id) {
    const Node& node = circuit.node(id);
    if (!node.condition && node.kind != NodeKind::previous && node.kind != NodeKind::age &&
        reads(node, marks)) {
      marks[id] = true;
    }
  }
  return marks;
}

/// `seen`: what is looked at otherwise than by this channel's own rate limit.
std::optional<Ramp> ramp_of(const Circuit& circuit, const dsl::Constraint::RateLimit& rate,
                            const std::vector<bool>& seen) {
  if (seen[rate.before]) {
    return std::nullopt;
  }
  Ramp ramp{.input = static_cast<std::size_t>(circuit.node(rate.hand).number),
            .before = rate.before,
            .most = rate.most};
  const std::vector<bool> carried = carried_by(circuit, rate.hand);
  for (NodeId id = 0; id < circuit.nodes().size(); ++id) {
    const Node& node = circuit.node(id);
    if (!seen[id]) {
      continue;
    }
    if (carried[id]) {
      ramp.carried.push_back(id);
    } else if (reads(node, carried)) {
      if (node.kind == NodeKind::previous) {
        return std::nullopt;
      }
      ramp.readers.push_back(id);
    }
  }
  return ramp;
}

// Two ramps that meet in one comparison could pass its limit and come back between their ends.
void drop_meeting_ramps(std::vector<Ramp>& ramps) {
  std::vector<NodeId> all;
  for (const Ramp& ramp : ramps) {
    all.insert(all.end(), ramp.readers.begin(), ramp.readers.end());
    all.insert(all.end(), ramp.carried.begin(), ramp.carried.end());
  }
  const auto meets = [&](NodeId id) { return std::count(all.begin(), all.end(), id) > 1; };
  const auto is_met = [&](const Ramp& ramp) {
    return std::any_of(ramp.readers.begin(), ramp.readers.end(), meets) ||
           std::any_of(ramp.carried.begin(), ramp.carried.end(), meets);
  };
  ramps.erase(std::remove_if(ramps.begin(), ramps.end(), is_met), ramps.end());
}

}  // namespace

Slice slice_for(const dsl::Model& model, const std::vector<NodeId>& conditions) {
  std::vector<NodeId> roots = joined(conditions, hard_constraints(model));
  // A rate limit matters only where its channel is looked at; it looks at nothing else itself.
  const std::vector<bool> seen = influence(model.circuit, roots);
  for (const dsl::Constraint& constraint : model.constraints) {
    if (constraint.rate && seen[constraint.rate->hand]) {
      roots.push_back(constraint.node);
    }
  }
  return slice(model.circuit, roots);
}

Machine machine_of(const Slice& slice, const dsl::Model& model, const std::vector<NodeId>& conditions) {
  const Circuit& circuit = slice.circuit;
  Machine machine{.circuit = &circuit, .quiet = Quiet(circuit)};
  machine.memories = memories_of(circuit);
  std::vector<NodeId> looked_at;
  for (const NodeId id : joined(conditions, hard_constraints(model))) {
    looked_at.push_back(slice.node_of[id]);
  }
  const std::vector<bool> seen = influence(circuit, looked_at);
  for (const dsl::Constraint& constraint : model.constraints) {
    const NodeId node = slice.node_of[constraint.node];
    const bool idle_limit = constraint.rate && slice.node_of[constraint.rate->hand] == no_node;
    if (node == no_node || idle_limit) {
      continue;
    }
    machine.constraints.push_back(node);
    if (constraint.rate) {
      const dsl::Constraint::RateLimit rate{slice.node_of[constraint.rate->hand],
                                            slice.node_of[constraint.rate->before], constraint.rate->most};
      if (auto ramp = ramp_of(circuit, rate, seen)) {
        machine.ramps.push_back(std::move(*ramp));
      }
    }
  }
  drop_meeting_ramps(machine.ramps);
  return machine;
}

}  // namespace detent::solver
