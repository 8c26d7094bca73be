// Building the circuit: every constructor simplifies, then looks for the same node among those known.
#include "dsl/circuit.hpp"

#include <algorithm>
#include <cassert>
#include <utility>

#include "dsl/limits.hpp"

namespace detent::dsl {
namespace {

std::size_t mix(std::size_t seed, std::uint64_t value) {
  return seed ^ (std::hash<std::uint64_t>{}(value) + 0x9e3779b97f4a7c15ULL + (seed << 6U) + (seed >> 2U));
}

// The cap and the range of a node are found later and are no part of what it is.
std::size_t hash_of(const Node& node) {
  std::size_t seed = static_cast<std::size_t>(node.kind) * 2U + (node.condition ? 1U : 0U);
  for (const std::uint64_t part : {std::uint64_t{node.a}, std::uint64_t{node.b}, std::uint64_t{node.c},
                                   static_cast<std::uint64_t>(node.number)}) {
    seed = mix(seed, part);
  }
  return seed;
}

bool same(const Node& left, const Node& right) {
  return left.kind == right.kind && left.condition == right.condition && left.a == right.a &&
         left.b == right.b && left.c == right.c && left.number == right.number;
}

}  // namespace

NodeId Circuit::make(const Node& node) {
  const std::size_t hash = hash_of(node);
  const auto [begin, end] = known_.equal_range(hash);
  for (auto entry = begin; entry != end; ++entry) {
    if (same(nodes_[entry->second], node)) {
      return entry->second;
    }
  }
  const auto id = static_cast<NodeId>(nodes_.size());
  nodes_.push_back(node);
  known_.emplace(hash, id);
  return id;
}

NodeId Circuit::constant(Value number) {
  return make({.kind = NodeKind::constant, .number = number});
}

NodeId Circuit::truth(bool value) {
  return make({.kind = NodeKind::constant, .condition = true, .number = value ? 1 : 0});
}

NodeId Circuit::input(CircuitInput description) {
  const auto index = static_cast<Value>(inputs_.size());
  const NodeId id = make({.kind = NodeKind::input, .condition = description.condition, .number = index});
  description.node = id;
  inputs_.push_back(std::move(description));
  return id;
}

NodeId Circuit::not_(NodeId a) {
  const Node& operand = nodes_[a];
  if (operand.kind == NodeKind::constant) {
    return truth(operand.number == 0);
  }
  if (operand.kind == NodeKind::not_) {
    return operand.a;
  }
  return make({.kind = NodeKind::not_, .condition = true, .a = a});
}

NodeId Circuit::and_(NodeId a, NodeId b) {
  if (a > b) {
    std::swap(a, b);
  }
  for (const auto& [one, other] : {std::pair{a, b}, std::pair{b, a}}) {
    if (is_constant(one)) {
      return nodes_[one].number != 0 ? other : one;
    }
    if (nodes_[one].kind == NodeKind::not_ && nodes_[one].a == other) {
      return truth(false);
    }
  }
  return a == b ? a : make({.kind = NodeKind::and_, .condition = true, .a = a, .b = b});
}

NodeId Circuit::or_(NodeId a, NodeId b) {
  if (a > b) {
    std::swap(a, b);
  }
  for (const auto& [one, other] : {std::pair{a, b}, std::pair{b, a}}) {
    if (is_constant(one)) {
      return nodes_[one].number != 0 ? one : other;
    }
    if (nodes_[one].kind == NodeKind::not_ && nodes_[one].a == other) {
      return truth(true);
    }
  }
  return a == b ? a : make({.kind = NodeKind::or_, .condition = true, .a = a, .b = b});
}

NodeId Circuit::choose(NodeId a, NodeId b, NodeId c) {
  if (is_constant(a)) {
    return nodes_[a].number != 0 ? b : c;
  }
  if (b == c) {
    return b;
  }
  if (nodes_[b].condition) {
    return or_(and_(a, b), and_(not_(a), c));
  }
  return make({.kind = NodeKind::choose, .a = a, .b = b, .c = c});
}

NodeId Circuit::equal(NodeId a, NodeId b) {
  if (a == b) {
    return truth(true);
  }
  if (is_constant(a) && is_constant(b)) {
    return truth(nodes_[a].number == nodes_[b].number);
  }
  if (a > b) {
    std::swap(a, b);
  }
  if (nodes_[a].condition) {
    for (const auto& [one, other] : {std::pair{a, b}, std::pair{b, a}}) {
      if (is_constant(one)) {
        return nodes_[one].number != 0 ? other : not_(other);
      }
    }
  }
  return make({.kind = NodeKind::equal, .condition = true, .a = a, .b = b});
}

NodeId Circuit::less_equal(NodeId a, NodeId b) {
  if (a == b) {
    return truth(true);
  }
  if (is_constant(a) && is_constant(b)) {
    return truth(nodes_[a].number <= nodes_[b].number);
  }
  return make({.kind = NodeKind::less_equal, .condition = true, .a = a, .b = b});
}

NodeId Circuit::add(NodeId a, NodeId b) {
  if (is_constant(a) && is_constant(b)) {
    return constant(saturated(nodes_[a].number + nodes_[b].number));
  }
  for (const auto& [one, other] : {std::pair{a, b}, std::pair{b, a}}) {
    if (is_constant(one) && nodes_[one].number == 0) {
      return other;
    }
  }
  if (a > b) {
    std::swap(a, b);
  }
  return make({.kind = NodeKind::add, .a = a, .b = b});
}

NodeId Circuit::times(Value factor, NodeId a) {
  if (factor == 1) {
    return a;
  }
  if (factor == 0 || is_constant(a)) {
    return constant(factor == 0 ? 0 : saturating_product(factor, nodes_[a].number));
  }
  return make({.kind = NodeKind::times, .a = a, .number = factor});
}

NodeId Circuit::previous(NodeId a, Value start) {
  if (is_constant(a) && nodes_[a].number == start) {
    return a;
  }
  return make({.kind = NodeKind::previous, .condition = nodes_[a].condition, .a = a, .number = start});
}

NodeId Circuit::open_previous(bool condition, Value start) {
  const auto id = static_cast<NodeId>(nodes_.size());
  nodes_.push_back({.kind = NodeKind::previous, .condition = condition, .number = start});
  return id;
}

void Circuit::connect(NodeId open, NodeId operand) {
  assert(nodes_[open].kind == NodeKind::previous && nodes_[open].a == no_node);
  nodes_[open].a = operand;
}

NodeId Circuit::age(NodeId a, bool just_before_start) {
  return make({.kind = NodeKind::age, .a = a, .number = just_before_start ? 1 : 0, .cap = 1});
}

NodeId Circuit::age_at_most(NodeId age, Value ticks) {
  nodes_[age].cap = std::max(nodes_[age].cap, ticks + 1);
  return less_equal(age, constant(ticks));
}

NodeId Circuit::first_tick() {
  return not_(previous(truth(true), 0));
}

}  // namespace detent::dsl
