#include "cli/chronicle.hpp"

#include <algorithm>

namespace detent::cli {

using dsl::NodeId;
using dsl::Value;

void Chronicle::add(const std::vector<Value>& values, Value count) {
  if (count <= 0) return;
  const bool same = !moments_.empty() && std::all_of(watched_.begin(), watched_.end(), [&](NodeId node) {
    return moments_.back().values[node] == values[node];
  });
  if (!same) moments_.push_back({ticks_, values});
  ticks_ += static_cast<std::size_t>(count);
  trace_ = nullptr;
}

void Chronicle::cut(std::size_t ticks) {
  if (ticks >= ticks_) return;
  ticks_ = ticks;
  while (!moments_.empty() && moments_.back().tick >= ticks) moments_.pop_back();
  trace_ = nullptr;
}

const solver::Trace& Chronicle::trace() const {
  if (!trace_) trace_ = std::make_shared<const solver::Trace>(*circuit_, moments_, ticks_);
  return *trace_;
}

std::size_t Chronicle::size() const {
  return moments_.empty() ? 0 : moments_.size() * moments_.front().values.size() * sizeof(Value);
}

solver::Trace Chronicle::ending(const std::vector<Value>& before, const std::vector<Value>& last) const {
  std::vector<solver::Trace::Moment> moments = moments_;
  const auto put = [&](std::size_t tick, const std::vector<Value>& values) {
    while (!moments.empty() && moments.back().tick >= tick) moments.pop_back();
    moments.push_back({tick, values});
  };
  if (ticks_ > 1) put(ticks_ - 2, before);
  if (ticks_ > 0) put(ticks_ - 1, last);
  return {*circuit_, std::move(moments), ticks_};
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

}  // namespace detent::cli
