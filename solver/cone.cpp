// Found by a walk from the questions down; a node is looked into again whenever more is asked of it.
#include "solver/cone.hpp"

#include <algorithm>
#include <variant>

namespace detent::solver {

using dsl::Circuit;
using dsl::CircuitInput;
using dsl::Node;
using dsl::NodeId;
using dsl::NodeKind;
using dsl::Value;

namespace {

/// With more thresholds than this, binary digits are the smaller description of a number. (A clock is never
/// turned into digits by this: its thresholds are independent of each other.)
constexpr std::size_t most_thresholds = 24;

Value floor_divided(Value number, Value divisor) {
  const Value quotient = number / divisor;
  return quotient * divisor > number ? quotient - 1 : quotient;  // divisor > 0
}

struct ConditionWanted {
  NodeId node;
};
struct ThresholdWanted {
  NodeId node;
  Value limit;
};
struct DigitsWanted {
  NodeId node;
};
using Wanted = std::variant<ConditionWanted, ThresholdWanted, DigitsWanted>;

class Walk {
 public:
  explicit Walk(const Circuit& circuit) : circuit_(circuit) { cone_.needs.resize(circuit.nodes().size()); }

  Cone run(const std::vector<NodeId>& conditions) {
    for (const NodeId node : conditions) want_condition(node);
    while (!wanted_.empty()) {
      const Wanted next = wanted_.back();
      wanted_.pop_back();
      std::visit([this](const auto& want) { look_into(want); }, next);
    }
    return std::move(cone_);
  }

 private:
  void want_condition(NodeId node) { wanted_.push_back(ConditionWanted{node}); }
  void want_threshold(NodeId node, Value limit) { wanted_.push_back(ThresholdWanted{node, limit}); }
  void want_all_thresholds(NodeId id) {
    const dsl::Range range = circuit_.node(id).range;
    for (Value limit = range.low; limit < range.high; ++limit) want_threshold(id, limit);
  }
  void want_digits(NodeId node) { wanted_.push_back(DigitsWanted{node}); }

  void look_into(const ConditionWanted& want) {
    Need& need = cone_.needs[want.node];
    if (need.any) return;
    need.any = true;
    const Node& node = circuit_.node(want.node);
    if (node.kind == NodeKind::equal || node.kind == NodeKind::less_equal) {
      look_into_comparison(node);
      return;
    }
    for (const NodeId operand : {node.a, node.b, node.c}) {
      if (operand != dsl::no_node) want_condition(operand);
    }
  }

  void look_into_comparison(const Node& node) {
    const Node& a = circuit_.node(node.a);
    const Node& b = circuit_.node(node.b);
    if (a.condition) {
      want_condition(node.a);
      want_condition(node.b);
    } else if (b.kind == NodeKind::constant) {
      want_threshold(node.a, b.number);
      if (node.kind == NodeKind::equal) want_threshold(node.a, b.number - 1);
    } else if (a.kind == NodeKind::constant) {
      want_threshold(node.b, a.number - 1);
      if (node.kind == NodeKind::equal) want_threshold(node.b, a.number);
    } else if (meet_by_thresholds(a, b)) {
      want_all_thresholds(node.a);
      want_all_thresholds(node.b);
    } else {
      want_digits(node.a);
      want_digits(node.b);
    }
  }

  void look_into(const ThresholdWanted& want) {
    const Node& node = circuit_.node(want.node);
    Need& need = cone_.needs[want.node];
    need.any = true;
    if (want.limit < node.range.low || want.limit >= node.range.high) return;
    const Value limit = node.kind == NodeKind::input ? on_grid(input_of(node), want.limit) : want.limit;
    const auto place = std::lower_bound(need.thresholds.begin(), need.thresholds.end(), limit);
    if (place != need.thresholds.end() && *place == limit) return;
    need.thresholds.insert(place, limit);
    if (need.digits) return;
    if (node.kind != NodeKind::age && need.thresholds.size() > most_thresholds) {
      want_digits(want.node);
    } else {
      pass_on(want.node, node, limit);
    }
  }

  void pass_on(NodeId id, const Node& node, Value limit) {
    switch (node.kind) {
      case NodeKind::age:
        want_condition(node.a);
        break;
      case NodeKind::choose:
        want_condition(node.a);
        want_threshold(node.b, limit);
        want_threshold(node.c, limit);
        break;
      case NodeKind::previous:
        want_threshold(node.a, limit);
        break;
      case NodeKind::times:
        want_threshold(node.a, quotient(node.number, limit).limit);
        break;
      case NodeKind::add:
        if (circuit_.is_constant(node.a)) {
          want_threshold(node.b, limit - circuit_.node(node.a).number);
        } else if (circuit_.is_constant(node.b)) {
          want_threshold(node.a, limit - circuit_.node(node.b).number);
        } else if (meet_by_thresholds(circuit_.node(node.a), circuit_.node(node.b))) {
          want_all_thresholds(node.a);
          want_all_thresholds(node.b);
        } else {
          want_digits(id);
        }
        break;
      default:
        break;
    }
  }

  void look_into(const DigitsWanted& want) {
    Need& need = cone_.needs[want.node];
    if (need.digits) return;
    need.any = true;
    need.digits = true;
    const Node& node = circuit_.node(want.node);
    for (const NodeId operand : {node.a, node.b, node.c}) {
      if (operand == dsl::no_node) continue;
      if (circuit_.node(operand).condition) {
        want_condition(operand);
      } else {
        want_digits(operand);
      }
    }
  }

  const CircuitInput& input_of(const Node& node) const {
    return circuit_.inputs()[static_cast<std::size_t>(node.number)];
  }

  const Circuit& circuit_;
  Cone cone_;
  std::vector<Wanted> wanted_;
};

}  // namespace

bool meet_by_thresholds(const Node& a, const Node& b) {
  constexpr auto most = static_cast<Value>(most_thresholds);
  return a.range.high - a.range.low <= most && b.range.high - b.range.low <= most;
}

Value on_grid(const CircuitInput& input, Value limit) {
  return input.range.low + (limit - input.range.low) / input.step * input.step;
}

Quotient quotient(Value factor, Value limit) {
  if (factor > 0) return {true, floor_divided(limit, factor)};
  // factor * x <= limit  <=>  -factor * x >= -limit  <=>  x > floor((-limit - 1) / -factor)
  return {false, floor_divided(-limit - 1, -factor)};
}

Cone cone_of(const Circuit& circuit, const std::vector<NodeId>& conditions) {
  return Walk(circuit).run(conditions);
}

}  // namespace detent::solver
