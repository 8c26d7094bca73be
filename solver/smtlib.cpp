// The machine, written down once more: the third reading of a circuit, after the interpreter and the terms
// for Z3. It follows solver/steps.cpp (what a step is, and why quiet ticks may be skipped) but shares no code
// with it, so that another solver which says `unsat` to this text checks those terms as well as the proof.
#include "solver/smtlib.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <vector>

#include "solver/machine.hpp"

namespace detent::solver {
namespace {

using dsl::no_node;
using dsl::Node;
using dsl::NodeKind;
using Part = ProofLine::Part;

std::string number(Value value) {
  return value < 0 ? fmt::format("(- {})", -value) : fmt::format("{}", value);
}

std::string literal(bool condition, Value value) {
  return condition ? (value != 0 ? "true" : "false") : number(value);
}

const char* sort(bool condition) {
  return condition ? "Bool" : "Int";
}

/// Symbols: what a person calls a node, else its number.
class Names {
 public:
  Names(const dsl::Model& model, const Slice& slice, const Machine& machine)
      : names_(slice.circuit.nodes().size()) {
    for (const dsl::Signal& signal : model.signals) {
      give(slice.node_of[signal.node], signal.name);
    }
    for (const dsl::Claim& claim : model.claims) {
      give(slice.node_of[claim.watch], "broken: " + claim.name);
    }
    for (NodeId id = 0; id < names_.size(); ++id) {
      if (names_[id].empty()) {
        names_[id] = fmt::format("node {}", id);
      }
    }
    for (std::size_t index = 0; index < machine.memories.size(); ++index) {
      const Node& node = slice.circuit.node(machine.memories[index].node);
      memories_.push_back(fmt::format(
          "{} {} ({})", machine.memories[index].clock ? "ticks since" : "before:", names_[node.a], index));
    }
  }

  [[nodiscard]] std::string node(NodeId id, const std::string& suffix) const {
    return quote(names_[id] + suffix);
  }
  [[nodiscard]] std::string memory(std::size_t index, const std::string& suffix) const {
    return quote(memories_[index] + suffix);
  }

 private:
  static std::string quote(const std::string& name) { return "|" + name + "|"; }

  void give(NodeId id, const std::string& name) {
    if (id != no_node && names_[id].empty() && used_.insert(name).second) {
      names_[id] = name;
    }
  }

  std::vector<std::string> names_;
  std::vector<std::string> memories_;
  std::set<std::string> used_;
};

class Writer {
 public:
  Writer(const dsl::Model& model, const Proof& proof, std::string title)
      : proof_(proof),
        title_(std::move(title)),
        slice_(slice_for(model, proof.slice_of)),
        machine_(machine_of(slice_, model, proof.slice_of)),
        names_(model, slice_, machine_),
        watch_(slice_.node_of[proof.never]) {}

  ProofLines write() { return {start(), step(), claim()}; }

 private:
  // ---- the three questions ----
  std::vector<ProofLine> start() {
    head("Start: does the invariant fail before tick 0?");
    declare_memory("@0");
    for (std::size_t index = 0; index < machine_.memories.size(); ++index) {
      const Memory& memory = machine_.memories[index];
      is_about(Part::start, memory.node);
      line(fmt::format("(assert (= {} {}))", names_.memory(index, "@0"),
                       literal(memory.condition, memory.start)));
    }
    define_invariant();
    std::vector<std::string> wrongs{fmt::format("(not {})", invariant_at("@0"))};
    for (int step = 0; step + 1 < proof_.k; ++step) {
      add_step(step);
      wrongs.push_back(names_.node(watch_, at(step)));
    }
    is_about(Part::question);
    line(fmt::format("(assert (or {}))", fmt::join(wrongs, " ")));
    return end();
  }

  std::vector<ProofLine> step() {
    head("Step: can a step lead from where the invariant holds to where it does not?");
    declare_memory("@0");
    define_invariant();
    is_about(Part::question);
    line(fmt::format("(assert {})", invariant_at("@0")));
    add_step(0);
    is_about(Part::question);
    line(fmt::format("(assert (not {}))", invariant_at("@1")));
    return end();
  }

  std::vector<ProofLine> claim() {
    head(proof_.k == 1
             ? "Claim: can it be broken in a step that starts where the invariant holds?"
             : fmt::format("Claim: can {} steps that start where the invariant holds break it in the "
                           "last, and not before?",
                           proof_.k));
    declare_memory("@0");
    define_invariant();
    for (int step = 0; step < proof_.k; ++step) {
      is_about(Part::question);
      line(fmt::format("(assert {})", invariant_at(at(step))));
      add_step(step);
      is_about(Part::question);
      const std::string watched = names_.node(watch_, at(step));
      line(fmt::format("(assert {})", step + 1 < proof_.k ? fmt::format("(not {})", watched) : watched));
    }
    return end();
  }

  // ---- frame ----
  void head(const std::string& question) {
    lines_.clear();
    step_ = 0;
    is_about(Part::frame);
    std::string comments;
    for (std::size_t begin = 0; begin < title_.size();) {
      const std::size_t stop = std::min(title_.find('\n', begin), title_.size());
      comments += "; " + title_.substr(begin, stop - begin) + "\n";
      begin = stop + 1;
    }
    line(comments + "; " + question +
         "\n; The proof is right if every answer to the three questions is unsat.\n" +
         "; A step is a tick and the quiet ticks after it, in which only clocks count on. Levels are whole "
         "numbers\n" +
         "; in the smallest unit of their channel; positions and stages are counted from 0.\n" +
         "(set-info :smt-lib-version 2.6)\n(set-logic QF_LIA)");
  }
  std::vector<ProofLine> end() {
    is_about(Part::frame);
    line("(check-sat)");
    line("(exit)");
    return std::move(lines_);
  }
  static std::string at(int step) { return fmt::format("@{}", step); }
  void line(const std::string& text) { lines_.push_back({part_, node_, step_, text}); }
  void comment(const std::string& text) {
    is_about(Part::frame);
    line(text);
  }
  /// What the lines that follow are written for; `node` of the slice.
  void is_about(Part part, NodeId node = no_node) {
    part_ = part;
    node_ = node == no_node ? no_node : slice_.whole_of[node];
  }
  void declare(const std::string& name, bool condition) {
    line(fmt::format("(declare-fun {} () {})", name, sort(condition)));
  }
  void assert_range(const std::string& name, const dsl::Range& range) {
    line(fmt::format("(assert (<= {} {} {}))", number(range.low), name, number(range.high)));
  }

  // ---- memory and invariant ----
  void declare_memory(const std::string& suffix) {
    comment("; what is remembered");
    for (std::size_t index = 0; index < machine_.memories.size(); ++index) {
      const Memory& memory = machine_.memories[index];
      is_about(Part::remembered, memory.node);
      declare(names_.memory(index, suffix), memory.condition);
    }
  }

  void define_invariant() {
    comment(invariant_begins);
    is_about(Part::invariant);
    std::string parameters;
    for (std::size_t index = 0; index < machine_.memories.size(); ++index) {
      parameters +=
          fmt::format("({} {}) ", names_.memory(index, ""), sort(machine_.memories[index].condition));
    }
    line(fmt::format("(define-fun invariant ({}) Bool (and true", parameters));
    for (std::size_t index = 0; index < machine_.memories.size(); ++index) {
      const Memory& memory = machine_.memories[index];
      if (!memory.condition) {
        line(fmt::format("  (<= {} {} {})", number(memory.range.low), names_.memory(index, ""),
                         number(memory.range.high)));
      }
    }
    for (const Clause& clause : proof_.invariant) {
      std::vector<std::string> atoms;
      for (const Atom& atom : clause) {
        atoms.push_back(atom_text(atom));
      }
      line(atoms.size() == 1 ? "  " + atoms.front() : fmt::format("  (or {})", fmt::join(atoms, " ")));
    }
    line("))");
    comment(invariant_ends);
  }

  std::string atom_text(const Atom& atom) const {
    const std::string first = names_.memory(atom.first, "");
    const std::string limit = literal(machine_.memories[atom.first].condition, atom.limit);
    switch (atom.kind) {
      case Atom::Kind::is:
        return fmt::format("(= {} {})", first, limit);
      case Atom::Kind::is_not:
        return fmt::format("(not (= {} {}))", first, limit);
      case Atom::Kind::at_most:
        return fmt::format("(<= {} {})", first, limit);
      case Atom::Kind::at_least:
        return fmt::format("(>= {} {})", first, limit);
      case Atom::Kind::difference:
        return fmt::format("(<= (- {} {}) {})", first, names_.memory(atom.second, ""), limit);
    }
    return "true";
  }

  std::string invariant_at(const std::string& suffix) const {
    if (machine_.memories.empty()) {
      return "invariant";
    }
    std::string call = "(invariant";
    for (std::size_t index = 0; index < machine_.memories.size(); ++index) {
      call += " " + names_.memory(index, suffix);
    }
    return call + ")";
  }

  // ---- one step ----
  void add_step(int step) {
    const std::string here = at(step);
    const std::string next = at(step + 1);
    step_ = step;
    comment(step == 0 ? std::string(step_begins) : fmt::format("; step {}", step + 1));
    declare_inputs(here);
    define_nodes(here);
    comment("; what always holds");
    for (const NodeId id : machine_.constraints) {
      is_about(Part::constraint, id);
      line(fmt::format("(assert {})", names_.node(id, here)));
    }
    comment("; quiet ticks");
    is_about(Part::quiet);
    quiet_ = "|quiet ticks" + here + "|";
    declare(quiet_, false);
    line(fmt::format("(assert (>= {} 0))", quiet_));
    for (std::size_t index = 0; index < machine_.ramps.size(); ++index) {
      add_ramp(machine_.ramps[index], here);
    }
    std::size_t memory = 0;
    for (const Memory& one : machine_.memories) {
      is_about(Part::next, one.node);
      define_memory(one, memory++, here, next);
    }
    if (step == 0) {
      comment(step_ends);
    }
  }

  void declare_inputs(const std::string& here) {
    comment("; what the hands do");
    for (const dsl::CircuitInput& input : slice_.circuit.inputs()) {
      is_about(Part::hand, input.node);
      declare(names_.node(input.node, here), input.condition);
      if (!input.condition) {
        keep_on_grid(names_.node(input.node, here), input);
      }
    }
  }

  void keep_on_grid(const std::string& name, const dsl::CircuitInput& input) {
    assert_range(name, input.range);
    if (input.step != 1) {
      const std::string steps = "|steps of " + name.substr(1);
      declare(steps, false);
      line(fmt::format("(assert (= {} (+ {} (* {} {}))))", name, number(input.range.low), number(input.step),
                       steps));
    }
  }

  void define_nodes(const std::string& here) {
    comment("; the design in this tick");
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
      is_about(Part::gate, id);
      line(fmt::format("(define-fun {} () {} {})", names_.node(id, here), sort(node.condition), text));
    }
  }

  /// Operands in `moved` are taken where a ramp ends.
  std::string gate(const Node& node, const std::string& here, const std::set<NodeId>& moved) const {
    const auto operand = [&](NodeId id) {
      return names_.node(id, (moved.count(id) != 0 ? " moved" : "") + here);
    };
    switch (node.kind) {
      case NodeKind::constant:
        return literal(node.condition, node.number);
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
        return fmt::format("(* {} {})", number(node.number), operand(node.a));
      default:
        return "";
    }
  }

  void add_ramp(const Ramp& ramp, const std::string& here) {
    const dsl::CircuitInput& input = slice_.circuit.inputs()[ramp.input];
    const std::string from = names_.node(input.node, here);
    const std::string to = names_.node(input.node, " moved" + here);
    line(fmt::format("; {} may move on meanwhile", input.name));
    declare(to, false);
    keep_on_grid(to, input);
    line(fmt::format("(assert (<= (- {} {}) (* {} {})))", to, from, ramp.most, quiet_));
    line(fmt::format("(assert (<= (- {} {}) (* {} {})))", from, to, ramp.most, quiet_));
    std::set<NodeId> moved{input.node};
    for (const NodeId id : ramp.carried) {
      if (id != input.node) {
        line(fmt::format("(define-fun {} () Int {})", names_.node(id, " moved" + here),
                         gate(slice_.circuit.node(id), here, moved)));
        moved.insert(id);
      }
    }
    for (const NodeId id : ramp.readers) {
      line(fmt::format("(assert (= {} {}))", names_.node(id, here),
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
        line(fmt::format("(assert (or (= {} 0) (= {} {})))", quiet_, text, names_.memory(index, here)));
      }
    }
    line(fmt::format("(define-fun {} () {} {})", names_.memory(index, next), sort(memory.condition), text));
  }

  std::string clock_afterwards(const Memory& memory, const Node& node, const std::string& here) {
    const std::string now = names_.node(memory.node, here);
    const std::string event = names_.node(node.a, here);
    for (const Value limit : memory.limits) {
      line(
          fmt::format("(assert (or {} (> {} {}) (<= (+ {} {}) {})))", event, now, limit, now, quiet_, limit));
    }
    return fmt::format("(ite {} {} (ite (>= (+ {} {}) {}) {} (+ {} {})))", event, now, now, quiet_, node.cap,
                       node.cap, now, quiet_);
  }

  const Proof& proof_;
  std::string title_;
  Slice slice_;
  Machine machine_;
  Names names_;
  NodeId watch_;
  std::string quiet_;
  std::vector<ProofLine> lines_;
  Part part_ = Part::frame;
  NodeId node_ = no_node;
  int step_ = 0;
};

std::string joined(const std::vector<ProofLine>& lines) {
  std::string text;
  for (const ProofLine& line : lines) {
    text += line.text + "\n";
  }
  return text;
}

}  // namespace

ProofLines proof_lines(const dsl::Model& model, const Proof& proof, const std::string& title) {
  return Writer(model, proof, title).write();
}

ProofText proof_text(const dsl::Model& model, const Proof& proof, const std::string& title) {
  const ProofLines lines = proof_lines(model, proof, title);
  return {joined(lines.start), joined(lines.step), joined(lines.claim)};
}

}  // namespace detent::solver
