// Guess, and let Z3 throw out (Flanagan and Leino, "Houdini, an annotation assistant for ESC/Java", FME
// 2001): of a set of guesses, all of which hold before tick 0, those are dropped that one step can break
// while all that are left hold before it. Each answer of Z3 is a step that breaks some; its memory afterwards
// is looked at concretely, and every guess that it breaks goes at once. What is left when Z3 finds no such
// step is inductive, and the largest inductive part of the guesses.
//
// Claims then go by k-induction (Sheeran, Singh, Stålmarck, "Checking safety properties using induction and a
// SAT-solver", FMCAD 2000), with the invariant assumed between all steps, and quiet time skipped in each
// step.
#include "solver/induction.hpp"

#include <z3++.h>

#include <algorithm>
#include <map>
#include <string>
#include <utility>

#include "solver/sieve.hpp"
#include "solver/step_terms.hpp"

namespace detent::solver {

struct Induction::State {
  State(z3::context& context_, const Machine& machine_) : context(context_), machine(machine_) {
    for (const Memory& memory : machine.memories) {
      start.push_back(memory.start);
    }
  }

  /// k steps from anywhere, in a solver of their own; the invariant holds before each of them.
  struct Chain {
    z3::solver solver;
    std::vector<std::vector<z3::expr>> memories;
    std::vector<Step> steps;
    std::size_t assumed = 0;  ///< of the invariant, how much has been added
  };

  Chain make_chain(int k) {
    Chain made{make_solver(context), {}, {}, 0};
    std::vector<z3::expr> facts;
    made.memories.push_back(any_memory(context, machine, "@0", facts));
    for (int step = 0; step < k; ++step) {
      made.steps.push_back(make_step(context, machine, made.memories.back(), "@" + std::to_string(step)));
      add_all(made.solver, made.steps.back().facts);
      if (step + 1 < k) {
        made.memories.push_back(
            name_all(context, made.solver, made.steps.back().memory, "@" + std::to_string(step + 1)));
      }
    }
    add_all(made.solver, facts);
    return made;
  }

  Chain& chain(int k) {
    const auto found = chains.find(k);
    return found != chains.end() ? found->second : chains.emplace(k, make_chain(k)).first->second;
  }

  void assume_invariant(Chain& chain) {
    for (; chain.assumed < invariant.size(); ++chain.assumed) {
      for (const auto& memory : chain.memories) {
        chain.solver.add(term_of(context, invariant[chain.assumed], memory));
      }
    }
  }

  z3::context& context;
  const Machine& machine;
  std::vector<Value> start;
  Invariant invariant;
  std::map<int, Chain> chains;
};

namespace {

/// Which clauses a conclusion really used, by Z3's unsatisfiable cores; and then which ones those used to
/// keep themselves up, until nothing new is needed.
class CoreFinder {
 public:
  CoreFinder(z3::context& context, const Machine& machine, const Invariant& invariant)
      : context_(context),
        invariant_(invariant),
        needed_(invariant.size(), false),
        keeper_(make_solver(context)) {
    std::vector<z3::expr> facts;
    const std::vector<z3::expr> before = any_memory(context, machine, "@before", facts);
    const Step step = make_step(context, machine, before, "@step");
    add_all(keeper_, facts);
    add_all(keeper_, step.facts);
    const std::vector<z3::expr> after = name_all(context, keeper_, step.memory, "@after");
    for (std::size_t index = 0; index < invariant.size(); ++index) {
      switches_.push_back(context.bool_const(("uses " + std::to_string(index)).c_str()));
      breaks_.push_back(context.bool_const(("breaks " + std::to_string(index)).c_str()));
      keeper_.add(z3::implies(switches_[index], term_of(context, invariant[index], before)));
      keeper_.add(z3::implies(breaks_[index], !term_of(context, invariant[index], after)));
    }
  }

  [[nodiscard]] const std::vector<z3::expr>& switches() const { return switches_; }

  /// Takes what a solver's last `unsat` needed, and returns false if it was none.
  bool take(z3::solver& solver, z3::expr_vector assumptions) {
    if (solver.check(assumptions) != z3::unsat) {
      return false;
    }
    const z3::expr_vector core = solver.unsat_core();
    for (unsigned entry = 0; entry < core.size(); ++entry) {
      for (std::size_t index = 0; index < switches_.size(); ++index) {
        if (!needed_[index] && z3::eq(core[static_cast<int>(entry)], switches_[index])) {
          needed_[index] = true;
          open_.push_back(index);
        }
      }
    }
    return true;
  }

  std::optional<Invariant> close() {
    while (!open_.empty()) {
      const std::size_t clause = open_.back();
      open_.pop_back();
      z3::expr_vector assumptions = all_switches();
      assumptions.push_back(breaks_[clause]);
      if (!take(keeper_, assumptions)) {
        return std::nullopt;
      }
    }
    Invariant core;
    for (std::size_t index = 0; index < invariant_.size(); ++index) {
      if (needed_[index]) {
        core.push_back(invariant_[index]);
      }
    }
    return core;
  }

  z3::expr_vector all_switches() {
    z3::expr_vector all(context_);
    for (const z3::expr& one : switches_) {
      all.push_back(one);
    }
    return all;
  }

 private:
  z3::context& context_;
  const Invariant& invariant_;
  std::vector<bool> needed_;
  std::vector<std::size_t> open_;
  z3::solver keeper_;
  std::vector<z3::expr> switches_, breaks_;
};

}  // namespace

Induction::Induction(z3::context& context, const Machine& machine)
    : state_(std::make_unique<State>(context, machine)) {}
Induction::~Induction() = default;

const Invariant& Induction::invariant() const {
  return state_->invariant;
}

bool Induction::strengthen(const std::vector<Clause>& guesses) {
  z3::context& context = state_->context;
  std::vector<Clause> fresh;
  for (const Clause& clause : guesses) {
    const auto& known = state_->invariant;
    if (holds(clause, state_->start) && std::find(known.begin(), known.end(), clause) == known.end()) {
      fresh.push_back(clause);
    }
  }
  z3::solver solver = make_solver(context);
  std::vector<z3::expr> facts;
  const std::vector<z3::expr> before = any_memory(context, state_->machine, "@before", facts);
  const Step step = make_step(context, state_->machine, before, "@step");
  add_all(solver, facts);
  add_all(solver, step.facts);
  const std::vector<z3::expr> after = name_all(context, solver, step.memory, "@after");
  for (const Clause& clause : state_->invariant) {
    solver.add(term_of(context, clause, before));
  }
  std::vector<z3::expr> held;
  std::vector<z3::expr> kept;
  for (const Clause& clause : fresh) {
    held.push_back(term_of(context, clause, before));
    kept.push_back(term_of(context, clause, after));
  }
  Sieve sieve(context, solver, held, kept, after, [&](std::size_t guess, const std::vector<Value>& memory) {
    return holds(fresh[guess], memory);
  });
  if (!sieve.sift()) {
    return false;
  }
  for (std::size_t guess = 0; guess < fresh.size(); ++guess) {
    if (sieve.alive()[guess]) state_->invariant.push_back(std::move(fresh[guess]));
  }
  return true;
}

std::optional<Invariant> Induction::core(NodeId watch, int k) {
  CoreFinder finder(state_->context, state_->machine, state_->invariant);
  State::Chain chain = state_->make_chain(k);
  for (std::size_t index = 0; index < state_->invariant.size(); ++index) {
    for (const auto& memory : chain.memories) {
      chain.solver.add(
          z3::implies(finder.switches()[index], term_of(state_->context, state_->invariant[index], memory)));
    }
  }
  for (int step = 0; step < k; ++step) {
    const z3::expr& watched = chain.steps[static_cast<std::size_t>(step)].values[watch];
    chain.solver.add(step + 1 < k ? !watched : watched);
  }
  return finder.take(chain.solver, finder.all_switches()) ? finder.close() : std::nullopt;
}

Induction::Answer Induction::prove(NodeId watch, int k) {
  State::Chain& chain = state_->chain(k);
  state_->assume_invariant(chain);
  z3::expr_vector assumptions(state_->context);
  for (int step = 0; step < k; ++step) {
    const z3::expr& watched = chain.steps[static_cast<std::size_t>(step)].values[watch];
    const std::string name = "watch " + std::to_string(watch) + "@" + std::to_string(step);
    const z3::expr asked = state_->context.bool_const(name.c_str());
    chain.solver.add(z3::implies(asked, step + 1 < k ? !watched : watched));
    assumptions.push_back(asked);
  }
  switch (chain.solver.check(assumptions)) {
    case z3::unsat:
      return Answer::proved;
    case z3::sat:
      return Answer::not_proved;
    default:
      state_->chains.erase(
          k);  // a solver that was stopped in the middle is not asked again (see event_search.cpp)
      return Answer::unknown;
  }
}

}  // namespace detent::solver
