// Which memories of two circuits are one.
//
// The same expression is the same node, so a `previous` or an `age` of the same thing is shared without
// further ado. Only a loop (a latch, a stage: a `previous` of something that depends on it) can't be compared
// with another by its operands, since they are not built yet. So it is guessed that all loops with one start
// value are one; both circuits are built on that guess; loops that turn out to remember different nodes are
// parted, and it is built again, until nothing is parted any more. Then the guess is a proof by induction
// over ticks: what is taken for one starts alike, and goes on alike where it was alike before. That is the
// oldest way to find the coarsest such partition (Moore, "Gedanken-experiments on sequential machines", 1956;
// for circuits: van Eijk, "Sequential equivalence checking based on structural similarities", IEEE TCAD
// 19(7), 2000), here for nodes that are equal by their build alone. What is equal for deeper reasons is left
// to the engines.
#include "dsl/join.hpp"

#include <map>
#include <utility>

#include "dsl/copy.hpp"

namespace detent::dsl {
namespace {

/// A loop of one of the two circuits, and the class of those that are taken for one with it.
struct Loop {
  std::size_t side = 0;
  NodeId id = no_node;
  std::size_t kin = 0;
};

class Joiner {
 public:
  Joiner(const Circuit& a, const Circuit& b, const std::function<PlacedInputs(Circuit&)>& place_inputs)
      : from_{&a, &b}, place_inputs_(place_inputs) {
    find_loops();
  }

  JoinedCircuit run() {
    while (true) {
      JoinedCircuit joined = build();
      const std::size_t before = kins_;
      part(joined);
      if (kins_ == before) {
        connect(joined);
        return joined;
      }
    }
  }

 private:
  void find_loops() {
    std::map<std::pair<bool, Value>, std::size_t> kins;
    for (std::size_t side = 0; side < from_.size(); ++side) {
      for (NodeId id = 0; id < from_[side]->nodes().size(); ++id) {
        const Node& node = from_[side]->node(id);
        if (node.kind == NodeKind::previous && node.a >= id) {
          loop_at_[side][id] = loops_.size();
          const auto kin = kins.try_emplace({node.condition, node.number}, kins.size()).first;
          loops_.push_back({side, id, kin->second});
        }
      }
    }
    kins_ = kins.size();
  }

  JoinedCircuit build() {
    JoinedCircuit joined;
    const PlacedInputs inputs = place_inputs_(joined.circuit);
    node_of_kin_.assign(kins_, no_node);
    for (const Loop& loop : loops_) {
      const Node& node = from_[loop.side]->node(loop.id);
      NodeId& copy = node_of_kin_[loop.kin];
      if (copy == no_node) copy = joined.circuit.open_previous(node.condition, node.number);
    }
    for (std::size_t side = 0; side < from_.size(); ++side) {
      const auto input = [&](std::size_t index) { return inputs[side][index]; };
      const auto loop = [&](NodeId id) { return node_of_kin_[loops_[loop_at_[side].at(id)].kin]; };
      joined.node_of[side] = copy_nodes(*from_[side], joined.circuit, {input, loop});
    }
    return joined;
  }

  [[nodiscard]] NodeId remembered(const JoinedCircuit& joined, const Loop& loop) const {
    return joined.node_of[loop.side][from_[loop.side]->node(loop.id).a];
  }

  void part(const JoinedCircuit& joined) {
    std::map<std::pair<std::size_t, NodeId>, std::size_t> kins;
    for (Loop& loop : loops_) {
      const auto key = std::pair{loop.kin, remembered(joined, loop)};
      loop.kin = kins.try_emplace(key, kins.size()).first->second;
    }
    kins_ = kins.size();
  }

  void connect(JoinedCircuit& joined) {
    // The classes have kept their members, but perhaps not their numbers.
    for (const Loop& loop : loops_) {
      const NodeId node = joined.node_of[loop.side][loop.id];
      if (joined.circuit.node(node).a == no_node) joined.circuit.connect(node, remembered(joined, loop));
    }
  }

  std::array<const Circuit*, 2> from_;
  const std::function<PlacedInputs(Circuit&)>& place_inputs_;
  std::vector<Loop> loops_;
  std::array<std::map<NodeId, std::size_t>, 2> loop_at_;
  std::size_t kins_ = 0;
  std::vector<NodeId> node_of_kin_;
};

}  // namespace

JoinedCircuit join_circuits(const Circuit& a, const Circuit& b,
                            const std::function<PlacedInputs(Circuit&)>& place_inputs) {
  return Joiner(a, b, place_inputs).run();
}

}  // namespace detent::dsl
