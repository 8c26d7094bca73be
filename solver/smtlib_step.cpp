#include "solver/smtlib_step.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "solver/smtlib_tick.hpp"

namespace detent::solver {
namespace {

using dsl::Node;
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
    write_tick(sheet_, names_, slice_, here);
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
  void add_ramp(const Ramp& ramp, const std::string& here) {
    const dsl::CircuitInput& input = slice_.circuit.inputs()[ramp.input];
    const std::string from = names_.node(input.node, here);
    const std::string to = names_.node(input.node, " moved" + here);
    sheet_.line(fmt::format("; {} may move on meanwhile", input.name));
    sheet_.declare(to, false);
    keep_on_grid(sheet_, to, input);
    sheet_.line(fmt::format("(assert (<= (- {} {}) (* {} {})))", to, from, ramp.most, quiet_));
    sheet_.line(fmt::format("(assert (<= (- {} {}) (* {} {})))", from, to, ramp.most, quiet_));
    std::set<NodeId> moved{input.node};
    // Operands among them are taken where the ramp ends.
    const auto operand = [&](NodeId id) {
      return names_.node(id, (moved.count(id) != 0 ? " moved" : "") + here);
    };
    for (const NodeId id : ramp.carried) {
      if (id != input.node) {
        sheet_.line(fmt::format("(define-fun {} () Int {})", names_.node(id, " moved" + here),
                                smt_gate(slice_.circuit.node(id), operand)));
        moved.insert(id);
      }
    }
    for (const NodeId id : ramp.readers) {
      sheet_.line(fmt::format("(assert (= {} {}))", names_.node(id, here),
                              smt_gate(slice_.circuit.node(id), operand)));
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
