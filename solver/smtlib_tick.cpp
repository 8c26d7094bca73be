#include "solver/smtlib_tick.hpp"

#include <fmt/format.h>

namespace detent::solver {
namespace {

using dsl::Node;
using dsl::NodeKind;
using Part = ProofLine::Part;

void declare_inputs(SmtSheet& sheet, const SmtNames& names, const Slice& slice, const std::string& here) {
  sheet.comment("; what the hands do");
  for (const dsl::CircuitInput& input : slice.circuit.inputs()) {
    sheet.is_about(Part::hand, input.node);
    sheet.declare(names.node(input.node, here), input.condition);
    if (!input.condition) keep_on_grid(sheet, names.node(input.node, here), input);
  }
}

void define_nodes(SmtSheet& sheet, const SmtNames& names, const Slice& slice, const std::string& here) {
  sheet.comment("; the design in this tick");
  const auto operand = [&](NodeId id) { return names.node(id, here); };
  std::size_t memory = 0;
  for (NodeId id = 0; id < slice.circuit.nodes().size(); ++id) {
    const Node& node = slice.circuit.node(id);
    std::string text;
    if (node.kind == NodeKind::input) continue;
    if (node.kind == NodeKind::previous) {
      text = names.memory(memory++, here);
    } else if (node.kind == NodeKind::age) {
      const std::string before = names.memory(memory++, here);
      text = fmt::format("(ite {} 0 (ite (>= {} {}) {} (+ {} 1)))", operand(node.a), before, node.cap,
                         node.cap, before);
    } else {
      text = smt_gate(node, operand);
    }
    sheet.is_about(Part::gate, id);
    sheet.line(fmt::format("(define-fun {} () {} {})", operand(id), smt_sort(node.condition), text));
  }
}

}  // namespace

std::string smt_gate(const Node& node, const std::function<std::string(NodeId)>& operand) {
  switch (node.kind) {
    case NodeKind::constant:
      return smt_literal(node.condition, node.number);
    case NodeKind::not_:
      return fmt::format("(not {})", operand(node.a));
    case NodeKind::and_:
      return fmt::format("(and {} {})", operand(node.a), operand(node.b));
    case NodeKind::or_:
      return fmt::format("(or {} {})", operand(node.a), operand(node.b));
    case NodeKind::choose:
      return fmt::format("(ite {} {} {})", operand(node.a), operand(node.b), operand(node.c));
    case NodeKind::equal:
      return fmt::format("(= {} {})", operand(node.a), operand(node.b));
    case NodeKind::less_equal:
      return fmt::format("(<= {} {})", operand(node.a), operand(node.b));
    case NodeKind::add:
      return fmt::format("(+ {} {})", operand(node.a), operand(node.b));
    case NodeKind::times:
      return fmt::format("(* {} {})", smt_number(node.number), operand(node.a));
    default:
      return "";
  }
}

void keep_on_grid(SmtSheet& sheet, const std::string& name, const dsl::CircuitInput& input) {
  sheet.assert_range(name, input.range);
  if (input.step == 1) return;
  const std::string steps = "|steps of " + name.substr(1);
  sheet.declare(steps, false);
  sheet.line(fmt::format("(assert (= {} (+ {} (* {} {}))))", name, smt_number(input.range.low),
                         smt_number(input.step), steps));
}

void write_tick(SmtSheet& sheet, const SmtNames& names, const Slice& slice, const std::string& here) {
  declare_inputs(sheet, names, slice, here);
  define_nodes(sheet, names, slice, here);
}

}  // namespace detent::solver
