#include "solver/smtlib_step.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace detent::solver {
namespace {

using dsl::Node;
using dsl::NodeKind;
using Part = ProofLine::Part;

class StepText {
 public:
  StepText(SmtSheet& sheet, const SmtNames& names, const Slice& slice, const Machine& machine)
      : sheet_(sheet), names_(names), slice_(slice), machine_(machine) {}

  void write(int step) {
    const std::string here = smt_at(step);
    const std::string next = smt_at(step + 1);
    sheet_.begin_step(step);
    sheet_.comment(step == 0 ? std::string(step_begins) : fmt::format("; step {}", step + 1));
    declare_inputs(here);
    define_nodes(here);
    sheet_.comment("; what always holds");
    for (const NodeId id : machine_.constraints) {
      sheet_.is_about(Part::constraint, id);
      sheet_.line(fmt::format("(assert {})", names_.node(id, here)));
    }
    sheet_.comment("; quiet ticks");
    sheet_.is_about(Part::quiet);
    quiet_ = "|quiet ticks" + here + "|";
    sheet_.declare(quiet_, false);
    sheet_.line(fmt::format("(assert (>= {} 0))", quiet_));
    for (std::size_t index = 0; index < machine_.ramps.size(); ++index) {
      add_ramp(machine_.ramps[index], here);
    }
    std::size_t memory = 0;
    for (const Memory& one : machine_.memories) {
      sheet_.is_about(Part::next, one.node);
      define_memory(one, memory++, here, next);
    }
    if (step == 0) {
      sheet_.comment(step_ends);
    }
  }

 private:
  void declare_inputs(const std::string& here) {
    sheet_.comment("; what the hands do");
    for (const dsl::CircuitInput& input : slice_.circuit.inputs()) {
      sheet_.is_about(Part::hand, input.node);
      sheet_.declare(names_.node(input.node, here), input.condition);
      if (!input.condition) {
        keep_on_grid(names_.node(input.node, here), input);
      }
    }
  }

  void keep_on_grid(const std::string& name, const dsl::CircuitInput& input) {
    sheet_.assert_range(name, input.range);
    if (input.step != 1) {
      const std::string steps = "|steps of " + name.substr(1);
      sheet_.declare(steps, false);
      sheet_.line(fmt::format("(assert (= {} (+ {} (* {} {}))))", name, smt_number(input.range.low),
                              smt_number(input.step), steps));
    }
  }

  void define_nodes(const std::string& here) {
    sheet_.comment("; the design in this tick");
    std::size_t memory = 0;
    for (NodeId id = 0; id < slice_.circuit.nodes().size(); ++id) {
      const Node& node = slice_.circuit.node(id);
      std::string text;
      if (node.kind == NodeKind::input) {
        continue;
      }
      if (node.kind == NodeKind::previous) {
        text = names_.memory(memory++, here);
      } else if (node.kind == NodeKind::age) {
        const std::string before = names_.memory(memory++, here);
        text = fmt::format("(ite {} 0 (ite (>= {} {}) {} (+ {} 1)))", names_.node(node.a, here), before,
                           node.cap, node.cap, before);
      } else {
        text = gate(node, here, {});
      }
      sheet_.is_about(Part::gate, id);
      sheet_.line(
          fmt::format("(define-fun {} () {} {})", names_.node(id, here), smt_sort(node.condition), text));
    }
  }

  /// Operands in `moved` are taken where a ramp ends.
  std::string gate(const Node& node, const std::string& here, const std::set<NodeId>& moved) const {
    const auto operand = [&](NodeId id) {
      return names_.node(id, (moved.count(id) != 0 ? " moved" : "") + here);
    };
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

  void add_ramp(const Ramp& ramp, const std::string& here) {
    const dsl::CircuitInput& input = slice_.circuit.inputs()[ramp.input];
    const std::string from = names_.node(input.node, here);
    const std::string to = names_.node(input.node, " moved" + here);
    sheet_.line(fmt::format("; {} may move on meanwhile", input.name));
    sheet_.declare(to, false);
    keep_on_grid(to, input);
    sheet_.line(fmt::format("(assert (<= (- {} {}) (* {} {})))", to, from, ramp.most, quiet_));
    sheet_.line(fmt::format("(assert (<= (- {} {}) (* {} {})))", from, to, ramp.most, quiet_));
    std::set<NodeId> moved{input.node};
    for (const NodeId id : ramp.carried) {
      if (id != input.node) {
        sheet_.line(fmt::format("(define-fun {} () Int {})", names_.node(id, " moved" + here),
                                gate(slice_.circuit.node(id), here, moved)));
        moved.insert(id);
      }
    }
    for (const NodeId id : ramp.readers) {
      sheet_.line(fmt::format("(assert (= {} {}))", names_.node(id, here),
                              gate(slice_.circuit.node(id), here, moved)));
    }
  }

  void define_memory(const Memory& memory, std::size_t index, const std::string& here,
                     const std::string& next) {
    const Node& node = slice_.circuit.node(memory.node);
    std::string text;
    if (memory.clock) {
      text = clock_afterwards(memory, node, here);
    } else {
      const auto ramp = std::find_if(machine_.ramps.begin(), machine_.ramps.end(),
                                     [&](const Ramp& one) { return one.before == memory.node; });
      text = names_.node(node.a, here);
      if (ramp != machine_.ramps.end()) {
        text = names_.node(node.a, " moved" + here);
      } else {
        sheet_.line(
            fmt::format("(assert (or (= {} 0) (= {} {})))", quiet_, text, names_.memory(index, here)));
      }
    }
    sheet_.line(fmt::format("(define-fun {} () {} {})", names_.memory(index, next),
                            smt_sort(memory.condition), text));
  }

  std::string clock_afterwards(const Memory& memory, const Node& node, const std::string& here) {
    const std::string now = names_.node(memory.node, here);
    const std::string event = names_.node(node.a, here);
    for (const Value limit : memory.limits) {
      sheet_.line(
          fmt::format("(assert (or {} (> {} {}) (<= (+ {} {}) {})))", event, now, limit, now, quiet_, limit));
    }
    return fmt::format("(ite {} {} (ite (>= (+ {} {}) {}) {} (+ {} {})))", event, now, now, quiet_, node.cap,
                       node.cap, now, quiet_);
  }

  SmtSheet& sheet_;
  const SmtNames& names_;
  const Slice& slice_;
  const Machine& machine_;
  std::string quiet_;
};

}  // namespace

void write_step(SmtSheet& sheet, const SmtNames& names, const Slice& slice, const Machine& machine,
                int step) {
  StepText(sheet, names, slice, machine).write(step);
}

}  // namespace detent::solver
