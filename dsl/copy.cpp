#include "dsl/copy.hpp"

namespace detent::dsl {
namespace {

class Copier {
 public:
  Copier(const Circuit& from, Circuit& to, const CopyPlan& plan)
      : from_(from), to_(to), plan_(plan), copies_(from.nodes().size(), no_node) {}

  std::vector<NodeId> run() {
    for (NodeId id = 0; id < copies_.size(); ++id) {
      if (plan_.wanted.empty() || plan_.wanted[id]) copies_[id] = copy(id);
    }
    return std::move(copies_);
  }

 private:
  [[nodiscard]] NodeId at(NodeId id) const { return copies_[id]; }

  NodeId copy(NodeId id) {
    const Node& node = from_.node(id);
    switch (node.kind) {
      case NodeKind::constant:
        return node.condition ? to_.truth(node.number != 0) : to_.constant(node.number);
      case NodeKind::input:
        return plan_.input(static_cast<std::size_t>(node.number));
      case NodeKind::not_:
        return to_.not_(at(node.a));
      case NodeKind::and_:
        return to_.and_(at(node.a), at(node.b));
      case NodeKind::or_:
        return to_.or_(at(node.a), at(node.b));
      case NodeKind::choose:
        return to_.choose(at(node.a), at(node.b), at(node.c));
      case NodeKind::equal:
        return to_.equal(at(node.a), at(node.b));
      case NodeKind::less_equal:
        return compare(node);
      case NodeKind::add:
        return to_.add(at(node.a), at(node.b));
      case NodeKind::times:
        return to_.times(node.number, at(node.a));
      case NodeKind::previous:
        return at(node.a) == no_node ? plan_.loop(id) : to_.previous(at(node.a), node.number);
      case NodeKind::age:
        return to_.age(at(node.a), node.number != 0);
    }
    return no_node;
  }

  NodeId compare(const Node& node) {
    const bool clock = from_.node(node.a).kind == NodeKind::age && from_.is_constant(node.b);
    return clock ? to_.age_at_most(at(node.a), from_.node(node.b).number)
                 : to_.less_equal(at(node.a), at(node.b));
  }

  const Circuit& from_;
  Circuit& to_;
  const CopyPlan& plan_;
  std::vector<NodeId> copies_;
};

}  // namespace

std::vector<NodeId> copy_nodes(const Circuit& from, Circuit& to, const CopyPlan& plan) {
  return Copier(from, to, plan).run();
}

}  // namespace detent::dsl
