// The machine, written down once more: the third reading of a circuit, after the interpreter and the terms
// for Z3. It follows solver/steps.cpp (what a step is, and why quiet ticks may be skipped) but shares no code
// with it, so that another solver which says `unsat` to this text checks those terms as well as the proof.
#include "solver/smtlib.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>
#include <vector>

#include "solver/machine.hpp"
#include "solver/smtlib_step.hpp"

namespace detent::solver {
namespace {

using Part = ProofLine::Part;

class Writer {
 public:
  Writer(const dsl::Model& model, const Proof& proof, std::string title)
      : proof_(proof),
        title_(std::move(title)),
        slice_(slice_for(model, proof.slice_of)),
        machine_(machine_of(slice_, model, proof.slice_of)),
        names_(model, slice_, machine_),
        sheet_(slice_),
        watch_(slice_.node_of[proof.never]) {}

  ProofLines write() { return {start(), step(), claim()}; }

 private:
  // ---- the three questions ----
  std::vector<ProofLine> start() {
    head("Start: does the invariant fail before tick 0?");
    declare_memory("@0");
    for (std::size_t index = 0; index < machine_.memories.size(); ++index) {
      const Memory& memory = machine_.memories[index];
      sheet_.is_about(Part::start, memory.node);
      sheet_.line(fmt::format("(assert (= {} {}))", names_.memory(index, "@0"),
                              smt_literal(memory.condition, memory.start)));
    }
    define_invariant();
    std::vector<std::string> wrongs{fmt::format("(not {})", invariant_at("@0"))};
    for (int step = 0; step + 1 < proof_.k; ++step) {
      write_step(sheet_, names_, slice_, machine_, step);
      wrongs.push_back(names_.node(watch_, smt_at(step)));
    }
    sheet_.is_about(Part::question);
    sheet_.line(fmt::format("(assert (or {}))", fmt::join(wrongs, " ")));
    return end();
  }

  std::vector<ProofLine> step() {
    head("Step: can a step lead from where the invariant holds to where it does not?");
    declare_memory("@0");
    define_invariant();
    sheet_.is_about(Part::question);
    sheet_.line(fmt::format("(assert {})", invariant_at("@0")));
    write_step(sheet_, names_, slice_, machine_, 0);
    sheet_.is_about(Part::question);
    sheet_.line(fmt::format("(assert (not {}))", invariant_at("@1")));
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
      sheet_.is_about(Part::question);
      sheet_.line(fmt::format("(assert {})", invariant_at(smt_at(step))));
      write_step(sheet_, names_, slice_, machine_, step);
      sheet_.is_about(Part::question);
      const std::string watched = names_.node(watch_, smt_at(step));
      sheet_.line(
          fmt::format("(assert {})", step + 1 < proof_.k ? fmt::format("(not {})", watched) : watched));
    }
    return end();
  }

  // ---- frame ----
  void head(const std::string& question) {
    sheet_.is_about(Part::frame);
    std::string comments;
    for (std::size_t begin = 0; begin < title_.size();) {
      const std::size_t stop = std::min(title_.find('\n', begin), title_.size());
      comments += "; " + title_.substr(begin, stop - begin) + "\n";
      begin = stop + 1;
    }
    sheet_.line(
        comments + "; " + question +
        "\n; The proof is right if every answer to the three questions is unsat.\n" +
        "; A step is a tick and the quiet ticks after it, in which only clocks count on. Levels are whole "
        "numbers\n" +
        "; in the smallest unit of their channel; positions and stages are counted from 0.\n" +
        "(set-info :smt-lib-version 2.6)\n(set-logic QF_LIA)");
  }
  std::vector<ProofLine> end() {
    sheet_.is_about(Part::frame);
    sheet_.line("(check-sat)");
    sheet_.line("(exit)");
    return sheet_.take();
  }

  // ---- memory and invariant ----
  void declare_memory(const std::string& suffix) {
    sheet_.comment("; what is remembered");
    for (std::size_t index = 0; index < machine_.memories.size(); ++index) {
      const Memory& memory = machine_.memories[index];
      sheet_.is_about(Part::remembered, memory.node);
      sheet_.declare(names_.memory(index, suffix), memory.condition);
    }
  }

  void define_invariant() {
    sheet_.comment(invariant_begins);
    sheet_.is_about(Part::invariant);
    std::string parameters;
    for (std::size_t index = 0; index < machine_.memories.size(); ++index) {
      parameters +=
          fmt::format("({} {}) ", names_.memory(index, ""), smt_sort(machine_.memories[index].condition));
    }
    sheet_.line(fmt::format("(define-fun invariant ({}) Bool (and true", parameters));
    for (std::size_t index = 0; index < machine_.memories.size(); ++index) {
      const Memory& memory = machine_.memories[index];
      if (!memory.condition) {
        sheet_.line(fmt::format("  (<= {} {} {})", smt_number(memory.range.low), names_.memory(index, ""),
                                smt_number(memory.range.high)));
      }
    }
    for (const Clause& clause : proof_.invariant) {
      std::vector<std::string> atoms;
      for (const Atom& atom : clause) {
        atoms.push_back(atom_text(atom));
      }
      sheet_.line(atoms.size() == 1 ? "  " + atoms.front() : fmt::format("  (or {})", fmt::join(atoms, " ")));
    }
    sheet_.line("))");
    sheet_.comment(invariant_ends);
  }

  std::string atom_text(const Atom& atom) const {
    const std::string first = names_.memory(atom.first, "");
    const std::string limit = smt_literal(machine_.memories[atom.first].condition, atom.limit);
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

  const Proof& proof_;
  std::string title_;
  Slice slice_;
  Machine machine_;
  SmtNames names_;
  SmtSheet sheet_;
  NodeId watch_;
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
