#include "tests/bench/tick_questions.hpp"

#include <fmt/format.h>

#include <vector>

#include "solver/machine.hpp"
#include "solver/smtlib_tick.hpp"

namespace detent::bench {
namespace {

using dsl::Node;
using dsl::NodeId;
using dsl::NodeKind;
using dsl::Value;

std::string number(Value value) {
  return value < 0 ? fmt::format("(- {})", -value) : std::to_string(value);
}

class TickWriter {
 public:
  TickWriter(const dsl::Model& model, const dsl::Claim& claim)
      : slice_(solver::slice_for(model, {claim.watch})),
        machine_(solver::machine_of(slice_, model, {claim.watch})),
        watch_(slice_.node_of[claim.watch]) {}

  std::string horn() {
    std::string state, sorts;
    for (std::size_t index = 0; index < machine_.memories.size(); ++index) {
      state += fmt::format(" m{}", index);
      sorts += std::string(index == 0 ? "" : " ") + (machine_.memories[index].condition ? "Bool" : "Int");
    }
    std::string start;
    for (const solver::Memory& memory : machine_.memories)
      start += " " + literal(memory.condition, memory.start);
    std::string variables;
    for (std::size_t index = 0; index < machine_.memories.size(); ++index) {
      variables += fmt::format("(m{} {}) ", index, machine_.memories[index].condition ? "Bool" : "Int");
    }
    for (const dsl::CircuitInput& input : slice_.circuit.inputs()) {
      variables += fmt::format("(n{} {}) ", input.node, input.condition ? "Bool" : "Int");
    }
    std::string next;
    for (const solver::Memory& memory : machine_.memories) {
      next += fmt::format(" n{}", memory.clock ? memory.node : slice_.circuit.node(memory.node).a);
    }
    std::string lets, closing;
    std::size_t index = 0;
    for (NodeId id = 0; id < slice_.circuit.nodes().size(); ++id) {
      const Node& node = slice_.circuit.node(id);
      if (node.kind == NodeKind::input) continue;
      const bool remembers = node.kind == NodeKind::previous || node.kind == NodeKind::age;
      lets += fmt::format("(let ((n{} {})) ", id, term(node, remembers ? fmt::format("m{}", index) : "", ""));
      index += remembers ? 1U : 0U;
      closing += ")";
    }
    std::string legal = fmt::format("(and (Reach{}) {}", state, grid(""));
    for (const NodeId id : machine_.constraints) legal += fmt::format(" n{}", id);
    legal += ")";
    return fmt::format(
        "(set-logic HORN)\n(declare-fun Reach ({}) Bool)\n(assert (Reach{}))\n"
        "(assert (forall ({}) {}(=> {} (Reach{})){}))\n(assert (forall ({}) {}(=> (and {} n{}) "
        "false){}))\n(check-sat)\n",
        sorts, start, variables, lets, legal, next, closing, variables, lets, legal, watch_, closing);
  }

  std::string unrolled(long ticks) {
    std::string text = "(set-logic QF_LIA)\n";
    std::string broken;
    std::vector<std::string> memory;
    for (const solver::Memory& one : machine_.memories) memory.push_back(literal(one.condition, one.start));
    for (long tick = 0; tick < ticks; ++tick) {
      const std::string at = fmt::format("_{}", tick);
      for (const dsl::CircuitInput& input : slice_.circuit.inputs()) {
        text += fmt::format("(declare-fun n{}{} () {})\n", input.node, at, input.condition ? "Bool" : "Int");
      }
      text += fmt::format("(assert {})\n", grid(at));
      std::size_t index = 0;
      for (NodeId id = 0; id < slice_.circuit.nodes().size(); ++id) {
        const Node& node = slice_.circuit.node(id);
        if (node.kind == NodeKind::input) continue;
        const bool remembers = node.kind == NodeKind::previous || node.kind == NodeKind::age;
        text += fmt::format("(define-fun n{}{} () {} {})\n", id, at, node.condition ? "Bool" : "Int",
                            term(node, remembers ? memory[index] : "", at));
        index += remembers ? 1U : 0U;
      }
      for (const NodeId id : machine_.constraints) text += fmt::format("(assert n{}{})\n", id, at);
      for (std::size_t one = 0; one < memory.size(); ++one) {
        const solver::Memory& kept = machine_.memories[one];
        memory[one] = fmt::format("n{}{}", kept.clock ? kept.node : slice_.circuit.node(kept.node).a, at);
      }
      broken += fmt::format(" n{}{}", watch_, at);
    }
    return text + fmt::format("(assert (or{}))\n(check-sat)\n", broken);
  }

 private:
  static std::string literal(bool condition, Value value) {
    return condition ? (value != 0 ? "true" : "false") : number(value);
  }

  std::string grid(const std::string& at) const {
    std::string text = "(and true";
    for (const dsl::CircuitInput& input : slice_.circuit.inputs()) {
      if (!input.condition) {
        text += fmt::format(" (<= {} n{}{} {})", number(input.range.low), input.node, at,
                            number(input.range.high));
      }
    }
    return text + ")";
  }

  std::string term(const Node& node, const std::string& memory, const std::string& at) const {
    const auto operand = [&](NodeId id) { return fmt::format("n{}{}", id, at); };
    switch (node.kind) {
      case NodeKind::previous:
        return memory;
      case NodeKind::age:
        return fmt::format("(ite {} 0 (ite (>= {} {}) {} (+ {} 1)))", operand(node.a), memory, node.cap,
                           node.cap, memory);
      default:
        return solver::smt_gate(node, operand);
    }
  }

  solver::Slice slice_;
  solver::Machine machine_;
  NodeId watch_;
};

}  // namespace

std::string horn_question(const dsl::Model& model, const dsl::Claim& claim) {
  return TickWriter(model, claim).horn();
}

std::string unrolled_question(const dsl::Model& model, const dsl::Claim& claim, long ticks) {
  return TickWriter(model, claim).unrolled(ticks);
}

}  // namespace detent::bench
