#include "cli/chronicle.hpp"

#include <algorithm>

namespace detent::cli {

using dsl::NodeId;
using dsl::Value;

void Chronicle::add(const std::vector<Value>& values, Value count) {
  if (count <= 0) return;
  const bool same = !trace_.values.empty() && std::all_of(watched_.begin(), watched_.end(), [&](NodeId node) {
    return trace_.values.back()[node] == values[node];
  });
  if (!same) trace_.values.push_back(values);
  const auto row = static_cast<std::uint32_t>(trace_.values.size() - 1);
  trace_.rows.insert(trace_.rows.end(), static_cast<std::size_t>(count), row);
}

void Chronicle::cut(std::size_t ticks) {
  if (ticks >= trace_.rows.size()) return;
  trace_.rows.resize(ticks);
  trace_.values.resize(ticks == 0 ? 0 : trace_.rows.back() + 1);
}

std::size_t Chronicle::size() const {
  const std::size_t width = trace_.values.empty() ? 0 : trace_.values.front().size();
  return trace_.rows.size() * sizeof(std::uint32_t) + trace_.values.size() * width * sizeof(Value);
}

solver::Trace Chronicle::ending(const std::vector<Value>& before, const std::vector<Value>& last) const {
  solver::Trace trace = trace_;
  const std::size_t count = trace.rows.size();
  trace.values.push_back(before);
  trace.values.push_back(last);
  const auto row = static_cast<std::uint32_t>(trace.values.size() - 1);
  if (count > 1) trace.rows[count - 2] = row - 1;
  if (count > 0) trace.rows[count - 1] = row;
  return trace;
}

std::vector<NodeId> condition_nodes(const dsl::Model& model) {
  std::vector<NodeId> nodes = told_nodes(model);
  const auto is_level = [&](NodeId node) { return !model.circuit.node(node).condition; };
  nodes.erase(std::remove_if(nodes.begin(), nodes.end(), is_level), nodes.end());
  for (const dsl::Signal& signal : model.signals) {
    if (signal.sort.kind == dsl::SortKind::position) nodes.push_back(signal.node);
  }
  return nodes;
}

std::vector<NodeId> told_nodes(const dsl::Model& model) {
  std::vector<NodeId> nodes;
  for (const dsl::Signal& signal : model.signals) nodes.push_back(signal.node);
  for (const dsl::Constraint& constraint : model.constraints) nodes.push_back(constraint.node);
  for (const dsl::Claim& claim : model.claims) {
    nodes.push_back(claim.watch);
    nodes.push_back(claim.first.node);
    if (claim.second) nodes.push_back(claim.second->node);
  }
  std::sort(nodes.begin(), nodes.end());
  nodes.erase(std::unique(nodes.begin(), nodes.end()), nodes.end());
  return nodes;
}

solver::Trace beginning(const solver::Trace& trace, std::size_t ticks) {
  solver::Trace part = trace;
  if (ticks >= trace.ticks()) return part;
  if (part.rows.empty()) {
    part.values.resize(ticks);
  } else {
    part.rows.resize(ticks);
    part.values.resize(ticks == 0 ? 0 : part.rows.back() + 1);
  }
  return part;
}

}  // namespace detent::cli
