// Unrolling a circuit, as in bounded model checking (Biere, Cimatti, Clarke, Zhu, "Symbolic model checking
// without BDDs", TACAS 1999), with three choices of our own that make it fast for clocks and sticks:
//
// - Everything becomes gates here, not Z3 terms: constants fold over the borders of ticks, equal gates of
//   different ticks are one gate, and the encoding can be tested against the interpreter by plain evaluation,
//   without a solver.
// - A number that is only compared with fixed numbers has no digits: see solver/cone.hpp, and for clocks
//   solver/sliding_or.cpp.
// - The other numbers have binary digits: see solver/encode_digits.cpp.
#include "solver/encode.hpp"

#include <algorithm>
#include <utility>

#include "solver/binary.hpp"

namespace detent::solver {

using dsl::Node;
using dsl::NodeKind;

Encoding::Encoding(const dsl::Circuit& circuit, const std::vector<NodeId>& conditions)
    : circuit_(&circuit), cone_(cone_of(circuit, conditions)) {
  lay_out();
}

void Encoding::lay_out() {
  const std::size_t count = circuit_->nodes().size();
  layout_.resize(count);
  windows_.resize(count);
  for (NodeId id = 0; id < count; ++id) {
    const Need& need = cone_.needs[id];
    const Node& node = circuit_->node(id);
    if (!need.any) continue;
    nodes_.push_back(id);
    layout_[id].first = row_;
    layout_[id].thresholds = need.thresholds.size();
    if (need.digits) layout_[id].digits = width_of(distance(node.range.low, node.range.high));
    row_ += node.condition ? 1 : layout_[id].thresholds + layout_[id].digits;
    if (node.kind != NodeKind::age) continue;
    for (const Value limit : need.thresholds) windows_[id].emplace_back(limit, node.number == 1);
  }
}

void Encoding::add_tick() {
  ticks_.emplace_back(row_);
  for (const NodeId id : nodes_) encode_node(id);
}

void Encoding::encode_node(NodeId id) {
  const Layout& layout = layout_[id];
  if (circuit_->node(id).condition) {
    now()[layout.first] = encode_condition(id);
    return;
  }
  if (layout.digits != 0) {
    const std::vector<Literal> digits = encode_digits(id);
    std::copy(digits.begin(), digits.end(),
              now().begin() + static_cast<std::ptrdiff_t>(layout.first + layout.thresholds));
  }
  for (std::size_t index = 0; index < layout.thresholds; ++index) {
    now()[layout.first + index] = encode_threshold(id, index);
  }
  if (circuit_->node(id).kind == NodeKind::input && layout.digits == 0) order_thresholds(layout);
}

Literal Encoding::encode_condition(NodeId id) {
  const Node& node = circuit_->node(id);
  const auto operand = [this](NodeId other) { return condition_in(now(), other); };
  switch (node.kind) {
    case NodeKind::constant:
      return literal(node.number != 0);
    case NodeKind::input:
      return gates_.variable();
    case NodeKind::not_:
      return !operand(node.a);
    case NodeKind::and_:
      return gates_.both(operand(node.a), operand(node.b));
    case NodeKind::or_:
      return gates_.either(operand(node.a), operand(node.b));
    case NodeKind::choose:
      return gates_.choose(operand(node.a), operand(node.b), operand(node.c));
    case NodeKind::previous:
      return is_first_tick() ? literal(node.number != 0) : condition_in(before(), node.a);
    default:
      return compare(node);
  }
}

Literal Encoding::compare(const Node& node) {
  const Node& a = circuit_->node(node.a);
  const Node& b = circuit_->node(node.b);
  const bool equal = node.kind == NodeKind::equal;
  if (a.condition) {
    const Literal same = gates_.same(condition_in(now(), node.a), condition_in(now(), node.b));
    return equal ? same : gates_.either(!condition_in(now(), node.a), condition_in(now(), node.b));
  }
  if (b.kind == NodeKind::constant) {
    const Literal at_most_b = at_most_in(now(), node.a, b.number);
    return equal ? gates_.both(at_most_b, !at_most_in(now(), node.a, b.number - 1)) : at_most_b;
  }
  if (a.kind == NodeKind::constant) {
    const Literal at_least_a = !at_most_in(now(), node.b, a.number - 1);
    return equal ? gates_.both(at_least_a, at_most_in(now(), node.b, a.number)) : at_least_a;
  }
  return meet_by_thresholds(a, b) ? compare_thresholds(node) : compare_digits(node);
}

// a <= b unless some limit holds b and not a; a == b if every limit holds both or neither.
Literal Encoding::compare_thresholds(const Node& node) {
  const dsl::Range a = circuit_->node(node.a).range;
  const dsl::Range b = circuit_->node(node.b).range;
  Literal result = always_true;
  for (Value limit = std::min(a.low, b.low); limit < std::max(a.high, b.high); ++limit) {
    const Literal holds_a = at_most_in(now(), node.a, limit);
    const Literal holds_b = at_most_in(now(), node.b, limit);
    const bool equal = node.kind == NodeKind::equal;
    result = gates_.both(result, equal ? gates_.same(holds_a, holds_b) : gates_.either(!holds_b, holds_a));
  }
  return result;
}

// Both counted from the lower of the two lowest values.
Literal Encoding::compare_digits(const Node& node) {
  const dsl::Range a = circuit_->node(node.a).range;
  const dsl::Range b = circuit_->node(node.b).range;
  const Value base = std::min(a.low, b.low);
  const std::size_t width = width_of(distance(base, std::max(a.high, b.high)));
  const auto counted_from_base = [&](NodeId id, Value low) {
    return sum(gates_, digits_in(now(), id), constant_bits(distance(base, low), width), width);
  };
  const Bits left = counted_from_base(node.a, a.low);
  const Bits right = counted_from_base(node.b, b.low);
  return node.kind == NodeKind::equal ? equal_bits(gates_, left, right) : at_most_bits(gates_, left, right);
}

Literal Encoding::encode_threshold(NodeId id, std::size_t index) {
  const Node& node = circuit_->node(id);
  const Value limit = cone_.needs[id].thresholds[index];
  if (node.kind == NodeKind::age) return windows_[id][index].next(gates_, condition_in(now(), node.a));
  const std::size_t width = layout_[id].digits;
  if (width == 0) return threshold_of_parts(node, limit);
  return at_most_bits(gates_, digits_in(now(), id), constant_bits(distance(node.range.low, limit), width));
}

Literal Encoding::threshold_of_parts(const Node& node, Value limit) {
  switch (node.kind) {
    case NodeKind::input:
      return gates_.variable();
    case NodeKind::choose:
      return gates_.choose(condition_in(now(), node.a), at_most_in(now(), node.b, limit),
                           at_most_in(now(), node.c, limit));
    case NodeKind::previous:
      return is_first_tick() ? literal(node.number <= limit) : at_most_in(before(), node.a, limit);
    case NodeKind::times: {
      const Quotient part = quotient(node.number, limit);
      const Literal at_most_part = at_most_in(now(), node.a, part.limit);
      return part.at_most ? at_most_part : !at_most_part;
    }
    default:
      return sum_at_most(node, limit);
  }
}

// For every value of a: if a reaches it, b has at most what is left.
Literal Encoding::sum_at_most(const Node& node, Value limit) {
  for (const auto& [fixed, other] : {std::pair{node.a, node.b}, std::pair{node.b, node.a}}) {
    if (circuit_->is_constant(fixed)) return at_most_in(now(), other, limit - circuit_->node(fixed).number);
  }
  const dsl::Range a = circuit_->node(node.a).range;
  Literal result = always_true;
  for (Value value = a.low; value <= a.high; ++value) {
    const Literal a_is_less = at_most_in(now(), node.a, value - 1);
    result = gates_.both(result, gates_.either(a_is_less, at_most_in(now(), node.b, limit - value)));
  }
  return result;
}

// What is at most the lower limit is at most the higher one.
void Encoding::order_thresholds(const Layout& layout) {
  for (std::size_t index = 1; index < layout.thresholds; ++index) {
    const Literal lower = now()[layout.first + index - 1];
    const Literal higher = now()[layout.first + index];
    add_fact(gates_.either(!lower, higher), {lower, higher});
  }
}

void Encoding::add_fact(Literal fact, const std::vector<Literal>& variables) {
  facts_.push_back(fact);
  for (const Literal variable : variables) gates_.bind(variable, fact);
}

Literal Encoding::at_most_in(const Tick& tick, NodeId id, Value limit) const {
  const Node& node = circuit_->node(id);
  if (limit < node.range.low) return always_false;
  if (limit >= node.range.high) return always_true;
  if (node.kind == NodeKind::input) {
    limit = on_grid(circuit_->inputs()[static_cast<std::size_t>(node.number)], limit);
  }
  const std::vector<Value>& thresholds = cone_.needs[id].thresholds;
  const auto place = std::lower_bound(thresholds.begin(), thresholds.end(), limit);
  return tick[layout_[id].first + static_cast<std::size_t>(place - thresholds.begin())];
}

Literal Encoding::condition(NodeId node, std::size_t tick) const {
  return condition_in(ticks_[tick], node);
}

}  // namespace detent::solver
