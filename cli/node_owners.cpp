// Two passes. The first goes down from each owner through what is evaluated in the same tick, and stops at
// what is remembered. The second goes on from there, into what has to be known in this tick for the sake of
// the next. Both walk the slice, as two nodes of the whole circuit may be one in it.
#include "cli/node_owners.hpp"

#include <algorithm>

namespace detent::cli {
namespace {

using dsl::no_node;
using dsl::Node;
using dsl::NodeId;
using dsl::NodeKind;
using Kind = NodeOwner::Kind;

class Owners {
 public:
  explicit Owners(const solver::Slice& slice) : slice_(slice), owners_(slice.circuit.nodes().size()) {}

  /// `whole` is a node of the whole circuit.
  void give_to(NodeId whole, const NodeOwner& owner) { give(slice_.node_of[whole], owner); }

  void give_what_is_remembered() {
    for (std::size_t next = 0; next < remembered_.size(); ++next) {
      NodeOwner owner = owners_[remembered_[next]];
      owner.for_next_tick = true;
      give(slice_.circuit.node(remembered_[next]).a, owner);
    }
  }

  [[nodiscard]] std::vector<NodeOwner> by_whole_node() const {
    std::vector<NodeOwner> all(slice_.node_of.size());
    for (NodeId whole = 0; whole < all.size(); ++whole) {
      if (slice_.node_of[whole] != no_node) all[whole] = owners_[slice_.node_of[whole]];
    }
    return all;
  }

 private:
  void give(NodeId from, const NodeOwner& owner) {
    std::vector<NodeId> open{from};
    while (!open.empty()) {
      const NodeId id = open.back();
      open.pop_back();
      if (id == no_node || owners_[id].kind != Kind::none) continue;
      owners_[id] = owner;
      const Node& node = slice_.circuit.node(id);
      if (node.kind == NodeKind::previous) {
        remembered_.push_back(id);
      } else {
        open.insert(open.end(), {node.a, node.b, node.c});
      }
    }
  }

  const solver::Slice& slice_;
  std::vector<NodeOwner> owners_;
  std::vector<NodeId> remembered_;
};

}  // namespace

std::vector<std::uint32_t> by_evaluation(const dsl::Model& model, const solver::Slice& slice) {
  const auto place = [&](std::uint32_t index) { return slice.node_of[model.signals[index].node]; };
  std::vector<std::uint32_t> order;
  for (std::uint32_t index = 0; index < model.signals.size(); ++index) {
    if (place(index) != no_node) order.push_back(index);
  }
  std::stable_sort(order.begin(), order.end(),
                   [&](std::uint32_t a, std::uint32_t b) { return place(a) < place(b); });
  return order;
}

std::vector<NodeOwner> node_owners(const dsl::Model& model, std::uint32_t claim,
                                   const std::vector<NodeId>& asked, const solver::Slice& slice) {
  Owners owners(slice);
  for (const std::uint32_t index : by_evaluation(model, slice))
    owners.give_to(model.signals[index].node, {Kind::signal, index});
  for (std::uint32_t index = 0; index < model.constraints.size(); ++index)
    owners.give_to(model.constraints[index].node, {Kind::constraint, index});
  for (const NodeId node : asked) owners.give_to(node, {Kind::claim, claim});
  owners.give_what_is_remembered();
  return owners.by_whole_node();
}

}  // namespace detent::cli
