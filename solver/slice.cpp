#include "solver/slice.hpp"

namespace detent::solver {

using dsl::Circuit;
using dsl::no_node;
using dsl::Node;
using dsl::NodeKind;

namespace {

class Slicer {
 public:
  Slicer(const Circuit& whole, const std::vector<NodeId>& conditions)
      : whole_(whole), wanted_(influence(whole, conditions)) {}

  Slice run() {
    slice_.node_of.assign(whole_.nodes().size(), no_node);
    for (NodeId id = 0; id < whole_.nodes().size(); ++id) {
      if (wanted_[id]) {
        slice_.node_of[id] = copy(whole_.node(id));
      }
    }
    for (const NodeId id : loops_) {
      slice_.circuit.connect(slice_.node_of[id], slice_.node_of[whole_.node(id).a]);
    }
    // What was bounded as a whole is bounded in part.
    static_cast<void>(slice_.circuit.finish());
    slice_.whole_of.assign(slice_.circuit.nodes().size(), no_node);
    for (NodeId id = 0; id < whole_.nodes().size(); ++id) {
      if (wanted_[id]) {
        slice_.whole_of[slice_.node_of[id]] = id;
      }
    }
    return std::move(slice_);
  }

 private:
  [[nodiscard]] NodeId at(NodeId id) const { return slice_.node_of[id]; }

  NodeId copy(const Node& node) {
    Circuit& circuit = slice_.circuit;
    switch (node.kind) {
      case NodeKind::constant:
        return node.condition ? circuit.truth(node.number != 0) : circuit.constant(node.number);
      case NodeKind::input:
        slice_.inputs.push_back(static_cast<std::size_t>(node.number));
        return circuit.input(whole_.inputs()[slice_.inputs.back()]);
      case NodeKind::not_:
        return circuit.not_(at(node.a));
      case NodeKind::and_:
        return circuit.and_(at(node.a), at(node.b));
      case NodeKind::or_:
        return circuit.or_(at(node.a), at(node.b));
      case NodeKind::choose:
        return circuit.choose(at(node.a), at(node.b), at(node.c));
      case NodeKind::equal:
        return circuit.equal(at(node.a), at(node.b));
      case NodeKind::less_equal:
        return compare(node);
      case NodeKind::add:
        return circuit.add(at(node.a), at(node.b));
      case NodeKind::times:
        return circuit.times(node.number, at(node.a));
      case NodeKind::previous:
        return copy_previous(node);
      case NodeKind::age:
        return circuit.age(at(node.a), node.number != 0);
    }
    return no_node;
  }

  // A clock counts only as far as somebody in the slice looks.
  NodeId compare(const Node& node) {
    const bool clock = whole_.node(node.a).kind == NodeKind::age && whole_.is_constant(node.b);
    return clock ? slice_.circuit.age_at_most(at(node.a), whole_.node(node.b).number)
                 : slice_.circuit.less_equal(at(node.a), at(node.b));
  }

  NodeId copy_previous(const Node& node) {
    if (at(node.a) != no_node) {
      return slice_.circuit.previous(at(node.a), node.number);
    }
    loops_.push_back(static_cast<NodeId>(&node - whole_.nodes().data()));
    return slice_.circuit.open_previous(node.condition, node.number);
  }

  const Circuit& whole_;
  std::vector<bool> wanted_;
  std::vector<NodeId> loops_;
  Slice slice_;
};

}  // namespace

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
  return Slicer(whole, conditions).run();
}

Run widen(const Run& run, const Slice& slice, const Circuit& whole) {
  Run wide;
  std::vector<Value> row;
  for (const dsl::CircuitInput& input : whole.inputs()) {
    row.push_back(input.range.low);
  }
  for (const std::vector<Value>& narrow : run.inputs) {
    for (std::size_t index = 0; index < narrow.size(); ++index) {
      row[slice.inputs[index]] = narrow[index];
    }
    wide.inputs.push_back(row);
  }
  return wide;
}

}  // namespace detent::solver
