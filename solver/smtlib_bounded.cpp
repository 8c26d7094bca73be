// A run written out tick by tick (Biere, Cimatti, Clarke, Zhu, TACAS 1999), as plain text: integers and
// conditions, with no cleverness at all. It shares the circuit and nothing else with solver/encode.cpp, which
// puts the same question to Z3 in gates.
//
// An assumption holds at the ticks of a run and says nothing of the time after it (solver/session.cpp): so
// the claim counts as broken in a tick if every assumption has held up to that tick.
//
// What is remembered from tick to tick, and whether all has held so far, are symbols of their own with an
// equation each, not definitions: those would be written into one another, a term as deep as the run is long.
#include "solver/smtlib_bounded.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "solver/machine.hpp"
#include "solver/smtlib_tick.hpp"

namespace detent::solver {
namespace {

using dsl::Node;

/// A claim that must be done in time asks nothing of the ticks behind it.
Value ticks_to_ask(const dsl::Claim& claim, Value ticks) {
  return claim.within ? std::min(ticks, *claim.within + 1) : ticks;
}

class Question {
 public:
  Question(const dsl::Model& model, std::uint32_t claim, Value ticks)
      : claim_(model.claims[claim]),
        asked_(ticks),
        ticks_(ticks_to_ask(claim_, ticks)),
        slice_(slice_for(model, {claim_.watch})),
        machine_(machine_of(slice_, model, {claim_.watch})),
        names_(model, slice_, machine_),
        sheet_(slice_) {}

  std::string write(const std::string& title) {
    head(title);
    for (std::size_t index = 0; index < machine_.memories.size(); ++index) {
      const Memory& memory = machine_.memories[index];
      remember(index, 0, smt_literal(memory.condition, memory.start));
    }
    for (Value tick = 0; tick < ticks_; ++tick) add_tick(tick);
    ask();
    std::string text;
    for (const ProofLine& line : sheet_.take()) text += line.text + "\n";
    return text;
  }

  [[nodiscard]] Value lines() const {
    return ticks_ * static_cast<Value>(slice_.circuit.nodes().size() + 2 * machine_.memories.size() + 4);
  }

 private:
  static std::string at(Value tick) { return fmt::format("@{}", tick); }
  /// No name of a design has a blank in it, but for "NAME received".
  static std::string kept(Value tick) { return fmt::format("|all that is assumed held up to{}|", at(tick)); }

  void head(const std::string& title) {
    sheet_.comment("; " + title);
    for (const std::string& line :
         {fmt::format("Question: does a run of up to {} ticks {}?", asked_,
                      claim_.possible ? "do what the claim says is possible" : "break the claim"),
          std::string("sat: yes, and the values of the symbols are one. unsat: no run of so many ticks; that "
                      "says nothing of longer ones."),
          std::string("NAME@T is the value of NAME in tick T, from power-up (tick 0) on. Levels are whole "
                      "numbers in the"),
          std::string("smallest unit of their channel; positions and stages are counted from 0. To see the "
                      "run, ask for values"),
          std::string("behind (check-sat), for example: (get-value (|NAME@0|))")}) {
      sheet_.comment("; " + line);
    }
    sheet_.line("(set-info :smt-lib-version 2.6)\n(set-option :produce-models true)\n(set-logic QF_LIA)");
  }

  void remember(std::size_t index, Value tick, const std::string& value) {
    const std::string name = names_.memory(index, at(tick));
    sheet_.declare(name, machine_.memories[index].condition);
    sheet_.line(fmt::format("(assert (= {} {}))", name, value));
  }

  void add_tick(Value tick) {
    sheet_.comment(fmt::format(";; ---- tick {}", tick));
    write_tick(sheet_, names_, slice_, at(tick));
    sheet_.comment("; what is assumed, and what is remembered");
    keep(tick);
    if (tick + 1 == ticks_) return;
    for (std::size_t index = 0; index < machine_.memories.size(); ++index) {
      const Memory& memory = machine_.memories[index];
      const Node& node = slice_.circuit.node(memory.node);
      remember(index, tick + 1, names_.node(memory.clock ? memory.node : node.a, at(tick)));
    }
  }

  void keep(Value tick) {
    if (machine_.constraints.empty()) return;
    std::string all = tick == 0 ? "true" : kept(tick - 1);
    for (const NodeId id : machine_.constraints) all += " " + names_.node(id, at(tick));
    sheet_.declare(kept(tick), true);
    sheet_.line(fmt::format("(assert (= {} (and {})))", kept(tick), all));
  }

  void ask() {
    sheet_.comment("; the question");
    const NodeId watch = slice_.node_of[claim_.watch];
    sheet_.line("(assert (or false");
    for (Value tick = 0; tick < ticks_; ++tick) {
      const std::string seen = names_.node(watch, at(tick));
      sheet_.line(machine_.constraints.empty() ? "  " + seen
                                               : fmt::format("  (and {} {})", kept(tick), seen));
    }
    sheet_.line("))\n(check-sat)");
  }

  const dsl::Claim& claim_;
  Value asked_, ticks_;
  Slice slice_;
  Machine machine_;
  SmtNames names_;
  SmtSheet sheet_;
};

std::string as_comment(std::string title) {
  for (std::size_t end = title.find('\n'); end != std::string::npos; end = title.find('\n', end + 1)) {
    title.insert(end + 1, "; ");
  }
  return title;
}

}  // namespace

std::string bounded_question(const dsl::Model& model, std::uint32_t claim, Value ticks,
                             const std::string& title) {
  return Question(model, claim, ticks).write(as_comment(title));
}

Value bounded_question_lines(const dsl::Model& model, std::uint32_t claim, Value ticks) {
  return Question(model, claim, ticks).lines();
}

}  // namespace detent::solver
