// Two passes. The first goes down from each owner through what is evaluated in the same tick, and stops at
// what is remembered. The second goes on from there, into what has to be known in this tick for the sake of
// the next.
#include "cli/node_owners.hpp"

#include <algorithm>
#include <numeric>

namespace detent::cli {
namespace {

using dsl::no_node;
using dsl::Node;
using dsl::NodeId;
using dsl::NodeKind;
using Kind = NodeOwner::Kind;

class Owners {
 public:
  explicit Owners(const dsl::Model& model) : circuit_(model.circuit), owners_(model.circuit.nodes().size()) {}

  void give(NodeId from, const NodeOwner& owner) {
    std::vector<NodeId> open{from};
    while (!open.empty()) {
      const NodeId id = open.back();
      open.pop_back();
      if (id == no_node || owners_[id].kind != Kind::none) continue;
      owners_[id] = owner;
      const Node& node = circuit_.node(id);
      if (node.kind == NodeKind::previous) {
        remembered_.push_back(id);
      } else {
        open.insert(open.end(), {node.a, node.b, node.c});
      }
    }
  }

  void give_what_is_remembered() {
    for (std::size_t next = 0; next < remembered_.size(); ++next) {
      NodeOwner owner = owners_[remembered_[next]];
      owner.for_next_tick = true;
      give(circuit_.node(remembered_[next]).a, owner);
    }
  }

  std::vector<NodeOwner> take() { return std::move(owners_); }

 private:
  const dsl::Circuit& circuit_;
  std::vector<NodeOwner> owners_;
  std::vector<NodeId> remembered_;
};

}  // namespace

std::vector<std::uint32_t> by_evaluation(const dsl::Model& model) {
  std::vector<std::uint32_t> order(model.signals.size());
  std::iota(order.begin(), order.end(), 0U);
  std::stable_sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
    return model.signals[a].node < model.signals[b].node;
  });
  return order;
}

std::vector<NodeOwner> node_owners(const dsl::Model& model, std::uint32_t claim, dsl::NodeId asked,
                                   const std::vector<bool>& looked_at) {
  Owners owners(model);
  for (const std::uint32_t index : by_evaluation(model)) {
    const NodeId node = model.signals[index].node;
    if (looked_at[node]) owners.give(node, {Kind::signal, index});
  }
  for (std::uint32_t index = 0; index < model.constraints.size(); ++index) {
    const NodeId node = model.constraints[index].node;
    if (looked_at[node]) owners.give(node, {Kind::constraint, index});
  }
  owners.give(model.claims[claim].watch, {Kind::claim, claim});
  owners.give(asked, {Kind::claim, claim});
  owners.give_what_is_remembered();
  return owners.take();
}

}  // namespace detent::cli
