#include "dsl/side_assumptions.hpp"

#include <algorithm>
#include <utility>

namespace detent::dsl {
namespace {

/// Both together. Of two rate limits of one hand the tighter one says it all, and the engines expect one.
void join_constraints(SideBySide& both) {
  std::vector<Constraint>& all = both.model.constraints;
  all = both.constraints_of[side_a];
  for (const Constraint& constraint : both.constraints_of[side_b]) {
    const auto same = std::find_if(all.begin(), all.end(), [&](const Constraint& known) {
      const bool one_hand = known.rate && constraint.rate && known.rate->hand == constraint.rate->hand;
      return known.node == constraint.node || one_hand;
    });
    if (same == all.end()) {
      all.push_back(constraint);
    } else if (constraint.rate && same->rate && constraint.rate->most < same->rate->most) {
      *same = constraint;
    }
  }
  const auto nodes_of = [](const std::vector<Constraint>& constraints) {
    std::vector<NodeId> nodes;
    for (const Constraint& constraint : constraints) nodes.push_back(constraint.node);
    std::sort(nodes.begin(), nodes.end());
    nodes.erase(std::unique(nodes.begin(), nodes.end()), nodes.end());
    return nodes;
  };
  both.same_assumptions = nodes_of(both.constraints_of[side_a]) == nodes_of(both.constraints_of[side_b]);
}

}  // namespace

void put_assumptions_side_by_side(const std::array<const Model*, 2>& from, SideBySide& both) {
  for (const std::size_t side : {side_a, side_b}) {
    for (Constraint constraint : from[side]->constraints) {
      constraint.node = both.node_of[side][constraint.node];
      if (constraint.rate) {
        // Of a hand in the coarser scale, the other design's limit is an ordinary constraint.
        const NodeId hand = both.node_of[side][constraint.rate->hand];
        if (both.model.circuit.node(hand).kind == NodeKind::input) {
          constraint.rate->hand = hand;
          constraint.rate->before = both.node_of[side][constraint.rate->before];
        } else {
          constraint.rate.reset();
        }
      }
      both.constraints_of[side].push_back(std::move(constraint));
    }
  }
  join_constraints(both);
}

}  // namespace detent::dsl
