// Expressions as nodes, and the clocks that elements and claims share.
#include "dsl/lower_terms.hpp"

#include <algorithm>

namespace detent::dsl {

TermBuilder::TermBuilder(const Design& design, Circuit& circuit)
    : meanings(design.elements.size()), design_(design), circuit_(circuit) {}

// Whether an edge counts in this tick: always, but at tick 0 as `power_up edges` says.
NodeId TermBuilder::edges_count() {
  switch (design_.edges) {
    case EdgeRule::counted:
      return circuit_.truth(true);
    case EdgeRule::ignored:
      return circuit_.not_(circuit_.first_tick());
    case EdgeRule::either:
      return circuit_.or_(circuit_.not_(circuit_.first_tick()), edge_choice);
  }
  return no_node;
}

NodeId TermBuilder::rises(NodeId a) {
  return circuit_.and_(circuit_.and_(a, circuit_.not_(circuit_.previous(a, 0))), edges_count());
}

NodeId TermBuilder::changes(NodeId a) {
  if (circuit_.node(a).condition) {
    return circuit_.or_(rises(a), rises(circuit_.not_(a)));
  }
  const NodeId differs = circuit_.not_(circuit_.equal(a, circuit_.previous(a, 0)));
  return circuit_.and_(circuit_.or_(differs, circuit_.first_tick()), edges_count());
}

// below(x, L, until M): on where x < L, off where x > M, else as before. The two never meet, so it does not
// matter which would win.
NodeId TermBuilder::hysteresis(NodeId value, NodeId on, NodeId off, bool below) {
  const NodeId sets = below ? circuit_.less(value, on) : circuit_.less(on, value);
  const NodeId stays = below ? circuit_.less_equal(value, off) : circuit_.less_equal(off, value);
  return since(stays, sets, false);
}

// The clock starts as if `not a` had been true just before tick 0, so that a full time has to pass.
NodeId TermBuilder::held(NodeId a, Value ticks) {
  const NodeId off = circuit_.age(circuit_.not_(a), true);
  return circuit_.and_(a, circuit_.not_(circuit_.age_at_most(off, ticks)));
}

NodeId TermBuilder::recently(NodeId a, Value ticks) {
  return circuit_.age_at_most(circuit_.age(a, false), ticks);
}

NodeId TermBuilder::since(NodeId a, NodeId b, bool start) {
  return latch(b, circuit_.not_(a), true, start);
}

NodeId TermBuilder::latch(NodeId set, NodeId reset, bool set_wins, bool start) {
  const auto [entry, is_new] = latches_.try_emplace({set, reset, set_wins, start}, no_node);
  if (is_new) {
    const NodeId before = circuit_.open_previous(true, start ? 1 : 0);
    const NodeId kept = circuit_.not_(reset);
    const NodeId now = set_wins ? circuit_.or_(set, circuit_.and_(kept, before))
                                : circuit_.and_(kept, circuit_.or_(set, before));
    circuit_.connect(before, now);
    entry->second = now;
  }
  return entry->second;
}

NodeId TermBuilder::minimum(NodeId a, NodeId b) {
  return circuit_.choose(circuit_.less_equal(a, b), a, b);
}
NodeId TermBuilder::maximum(NodeId a, NodeId b) {
  return circuit_.choose(circuit_.less_equal(b, a), a, b);
}

bool TermBuilder::is_lowered(const Term& term) const {
  if (term.op == TermOp::reference && meanings[term.element].node == no_node) {
    return false;
  }
  return std::all_of(term.operands.begin(), term.operands.end(),
                     [this](const Term& operand) { return is_lowered(operand); });
}

NodeId TermBuilder::previous(const Term& term) {
  const Term& operand = term.operands[0];
  if (is_lowered(operand)) {
    return circuit_.previous(build(operand), term.value);
  }
  const NodeId open = circuit_.open_previous(operand.type.kind == SortKind::condition, term.value);
  loops_.emplace_back(open, operand);
  return open;
}

void TermBuilder::connect_loops() {
  // Building an operand may find further loops, so the list can grow meanwhile.
  for (std::size_t index = 0; index < loops_.size(); ++index) {
    const auto [open, operand] = loops_[index];
    circuit_.connect(open, build(operand));
  }
  loops_.clear();
}

NodeId TermBuilder::fold(const Term& term, NodeId (Circuit::*join)(NodeId, NodeId)) {
  std::vector<NodeId> nodes;
  for (const Term& operand : term.operands) {
    nodes.push_back(build(operand));
  }
  // A few in the order in which they are written; a long row two by two, so that it makes no deep circuit.
  constexpr std::size_t few = 8;
  while (nodes.size() > 1) {
    std::vector<NodeId> joined;
    for (std::size_t index = 0; index < nodes.size(); ++index) {
      const bool alone = nodes.size() <= few ? index > 1 : index + 1 == nodes.size();
      joined.push_back(alone ? nodes[index] : (circuit_.*join)(nodes[index], nodes[index + 1]));
      index += alone ? 0U : 1U;
    }
    nodes = std::move(joined);
  }
  return nodes.front();
}

NodeId TermBuilder::build(const Term& term) {
  const auto operand = [&](std::size_t index) { return build(term.operands[index]); };
  switch (term.op) {
    case TermOp::constant:
      return term.type.kind == SortKind::condition ? circuit_.truth(term.value != 0)
                                                   : circuit_.constant(term.value);
    case TermOp::reference:
      return meanings[term.element].node;
    case TermOp::hand:
      return meanings[term.element].hand;
    case TermOp::lost:
      return meanings[term.element].node;
    case TermOp::not_:
      return circuit_.not_(operand(0));
    case TermOp::and_:
      return fold(term, &Circuit::and_);
    case TermOp::or_:
      return fold(term, &Circuit::or_);
    case TermOp::equal:
      return circuit_.equal(operand(0), operand(1));
    case TermOp::less_equal:
      return circuit_.less_equal(operand(0), operand(1));
    case TermOp::add:
      return fold(term, &Circuit::add);
    case TermOp::times:
      return circuit_.times(term.value, operand(0));
    case TermOp::choose:
      return circuit_.choose(operand(0), operand(1), operand(2));
    case TermOp::minimum:
      return minimum(operand(0), operand(1));
    case TermOp::maximum:
      return maximum(operand(0), operand(1));
    case TermOp::absolute: {
      const NodeId a = operand(0);
      return maximum(a, circuit_.times(-1, a));
    }
    case TermOp::hysteresis:
      return hysteresis(operand(0), operand(1), operand(2), term.value != 0);
    case TermOp::rises:
      return rises(operand(0));
    case TermOp::changes:
      return changes(operand(0));
    case TermOp::previous:
      return previous(term);
    case TermOp::held:
      return held(operand(0), term.value);
    case TermOp::recently:
      return recently(operand(0), term.value);
    case TermOp::since:
      return since(operand(0), operand(1), term.value != 0);
  }
  return no_node;
}

}  // namespace detent::dsl
