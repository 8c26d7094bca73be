// The part of the encoding that has digits: numbers that vary and meet other numbers that vary.
// A number is counted from its node's lowest value, in just as many bits as its highest value needs.
//
// Sums and products are taken modulo 2^width. That wraps nowhere that matters: addition and multiplication
// agree with the modulus, and the true result is known to lie within the node's range. (A range that is wrong
// would be a fault of the circuit; the tests hold the interpreter's values against the ranges.)
#include "solver/binary.hpp"
#include "solver/encode.hpp"

namespace detent::solver {

using dsl::CircuitInput;
using dsl::Node;
using dsl::NodeKind;

namespace {

std::uint64_t as_bits(Value value) {
  return static_cast<std::uint64_t>(value);
}

}  // namespace

std::vector<Literal> Encoding::digits_in(const Tick& tick, NodeId id) const {
  const auto first = tick.begin() + static_cast<std::ptrdiff_t>(layout_[id].first + layout_[id].thresholds);
  return {first, first + static_cast<std::ptrdiff_t>(layout_[id].digits)};
}

std::vector<Literal> Encoding::counted_for(const Node& user, const Tick& tick, NodeId operand) {
  const std::size_t width = width_of(distance(user.range.low, user.range.high));
  const std::uint64_t shift = distance(user.range.low, circuit_->node(operand).range.low);
  return sum(gates_, digits_in(tick, operand), constant_bits(shift, width), width);
}

std::vector<Literal> Encoding::encode_digits(NodeId id) {
  const Node& node = circuit_->node(id);
  const std::size_t width = layout_[id].digits;
  switch (node.kind) {
    case NodeKind::input:
      return input_digits(node);
    case NodeKind::choose:
      return choice(gates_, condition_in(now(), node.a), counted_for(node, now(), node.b),
                    counted_for(node, now(), node.c));
    case NodeKind::previous:
      return is_first_tick() ? constant_bits(distance(node.range.low, node.number), width)
                             : counted_for(node, before(), node.a);
    case NodeKind::add: {
      const Bits base = constant_bits(as_bits(circuit_->node(node.b).range.low), width);
      const Bits b = sum(gates_, digits_in(now(), node.b), base, width);
      return sum(gates_, counted_for(node, now(), node.a), b, width);
    }
    case NodeKind::times: {
      const std::uint64_t factor = as_bits(node.number);
      const std::uint64_t base = factor * as_bits(circuit_->node(node.a).range.low) - as_bits(node.range.low);
      const Bits counted = product(gates_, factor, digits_in(now(), node.a), width);
      return sum(gates_, counted, constant_bits(base, width), width);
    }
    default:
      return counted_age(id);
  }
}

std::vector<Literal> Encoding::input_digits(const Node& node) {
  const CircuitInput& input = circuit_->inputs()[static_cast<std::size_t>(node.number)];
  const std::uint64_t steps = distance(input.range.low, input.range.high) / as_bits(input.step);
  Bits count(width_of(steps));
  for (Literal& bit : count) bit = gates_.variable();
  add_fact(at_most_bits(gates_, count, constant_bits(steps, count.size())), count);
  return product(gates_, as_bits(input.step), count, width_of(distance(input.range.low, input.range.high)));
}

std::vector<Literal> Encoding::counted_age(NodeId id) {
  const Node& node = circuit_->node(id);
  const std::size_t width = layout_[id].digits;
  const Bits zero = constant_bits(0, width);
  const Bits cap = constant_bits(as_bits(node.cap), width);
  Bits last = node.number == 1 ? zero : cap;
  if (!is_first_tick()) last = digits_in(before(), id);
  const Bits counted = sum(gates_, last, constant_bits(1, width), width);
  const Bits older = choice(gates_, equal_bits(gates_, last, cap), cap, counted);
  return choice(gates_, condition_in(now(), node.a), zero, older);
}

}  // namespace detent::solver
