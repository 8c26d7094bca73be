#include "solver/step_solver.hpp"

#include <z3++.h>

#include <map>
#include <string>
#include <utility>

#include "solver/steps.hpp"

namespace detent::solver {
namespace {

constexpr unsigned patience_per_question_ms = 20'000;

/// Whether a term speaks of any of these constants (by the ids of their terms).
bool mentions(const z3::expr& term, const std::set<unsigned>& constants, std::set<unsigned>& visited) {
  if (!visited.insert(term.id()).second) return false;
  if (constants.count(term.id()) != 0) return true;
  for (unsigned index = 0; index < term.num_args(); ++index) {
    if (mentions(term.arg(index), constants, visited)) return true;
  }
  return false;
}

bool can_be(z3::solver& solver, const z3::expr_vector& assumptions) {
  const z3::check_result answer = solver.check(assumptions);
  if (answer == z3::unknown) throw GaveUp{};
  return answer == z3::sat;
}

std::set<unsigned> ids_of(const z3::expr_vector& core) {
  std::set<unsigned> ids;
  for (unsigned entry = 0; entry < core.size(); ++entry) ids.insert(core[static_cast<int>(entry)].id());
  return ids;
}

}  // namespace

Clause denied(const Cube& cube) {
  Clause clause;
  for (const Atom& atom : cube) clause.push_back(opposite(atom));
  return clause;
}

struct StepSolver::State {
  State(z3::context& context_, const Machine& machine, NodeId watch)
      : context(context_),
        solver(make_solver(context_)),
        lifter(make_solver(context_)),
        before(any_memory(context_, machine, "@before", ranges)),
        step(make_step(context_, machine, before, "@step")),
        watched(context_.bool_const("watched")),
        unwatched(context_.bool_const("unwatched")),
        can_be_taken(add_step_facts()) {
    for (const z3::expr& fact : ranges) keep(fact);
    for (std::size_t index = 0; index < step.memory.size(); ++index) {
      const std::string name = "memory " + std::to_string(index) + "@after";
      after.push_back(step.memory[index].is_bool() ? context.bool_const(name.c_str())
                                                   : context.int_const(name.c_str()));
      keep(after.back() == step.memory[index]);
    }
    solver.add(z3::implies(watched, step.values[watch]));
    lifter.add(z3::implies(unwatched, !can_be_taken || !step.values[watch]));
  }

  z3::context& context;
  z3::solver solver, lifter;
  std::vector<z3::expr> ranges;
  std::vector<z3::expr> before, after;
  Step step;
  z3::expr watched, unwatched;
  z3::expr can_be_taken;
  std::map<Atom, z3::expr> switches_before, switches_after;
  std::size_t next = 0;

  void keep(const z3::expr& fact) {
    solver.add(fact);
    lifter.add(fact);
  }

  // What does not look at the memory is settled by the choices; the rest makes that the step can be taken.
  z3::expr add_step_facts() {
    std::set<unsigned> remembered;
    for (const z3::expr& term : before) remembered.insert(term.id());
    z3::expr_vector dependent(context);
    for (const z3::expr& fact : step.facts) {
      solver.add(fact);
      std::set<unsigned> visited;
      if (mentions(fact, remembered, visited)) {
        dependent.push_back(fact);
      } else {
        lifter.add(fact);
      }
    }
    return z3::mk_and(dependent);
  }

  z3::expr fresh_switch(const std::string& name) {
    return context.bool_const((name + " " + std::to_string(next++)).c_str());
  }

  z3::expr switch_for(const Atom& atom, const std::vector<z3::expr>& memory, std::map<Atom, z3::expr>& known,
                      const std::string& name) {
    const auto found = known.find(atom);
    if (found != known.end()) return found->second;
    const z3::expr made = fresh_switch(name);
    keep(z3::implies(made, term_of(context, Clause{atom}, memory)));
    known.emplace(atom, made);
    return made;
  }
};

StepSolver::StepSolver(z3::context& context, const Machine& machine, NodeId watch, const Invariant& known)
    : state_(std::make_unique<State>(context, machine, watch)) {
  for (const Clause& clause : known) state_->keep(term_of(context, clause, state_->before));
  z3::params params(context);
  params.set("timeout", patience_per_question_ms);
  state_->solver.set(params);
  state_->lifter.set(params);
}
StepSolver::~StepSolver() = default;

void StepSolver::learn(const Clause& clause, std::size_t level) {
  state_->solver.add(z3::implies(frame(level), term_of(state_->context, clause, state_->before)));
}

z3::expr StepSolver::frame(std::size_t level) {
  return state_->context.bool_const(("frame " + std::to_string(level)).c_str());
}

const z3::expr& StepSolver::watched() const {
  return state_->watched;
}

z3::expr StepSolver::before(const Atom& atom) {
  return state_->switch_for(atom, state_->before, state_->switches_before, "before");
}

z3::expr StepSolver::after(const Atom& atom) {
  return state_->switch_for(atom, state_->after, state_->switches_after, "after");
}

z3::expr StepSolver::outside(const Cube& cube) {
  const z3::expr made = state_->fresh_switch("outside");
  state_->solver.add(z3::implies(made, term_of(state_->context, denied(cube), state_->before)));
  return made;
}

z3::expr StepSolver::misses(const Cube& cube) {
  const z3::expr made = state_->fresh_switch("misses");
  const z3::expr elsewhere = term_of(state_->context, denied(cube), state_->after);
  state_->lifter.add(z3::implies(made, !state_->can_be_taken || elsewhere));
  return made;
}

z3::expr StepSolver::unwatched() {
  return state_->unwatched;
}

z3::expr_vector StepSolver::choices(const z3::model& model) {
  z3::expr_vector pinned(state_->context);
  for (const auto* terms : {&state_->step.inputs, &state_->step.moved, &state_->step.quiet}) {
    for (const z3::expr& term : *terms) {
      const z3::expr made = state_->fresh_switch("choice");
      state_->lifter.add(z3::implies(made, term == model.eval(term, true)));
      pinned.push_back(made);
    }
  }
  return pinned;
}

bool StepSolver::ask(const z3::expr_vector& assumptions) {
  return can_be(state_->solver, assumptions);
}

bool StepSolver::ask_lifter(const z3::expr_vector& assumptions) {
  return can_be(state_->lifter, assumptions);
}

z3::model StepSolver::model() const {
  return state_->solver.get_model();
}

std::set<unsigned> StepSolver::core() const {
  return ids_of(state_->solver.unsat_core());
}

std::set<unsigned> StepSolver::lifted_core() const {
  return ids_of(state_->lifter.unsat_core());
}

const std::vector<z3::expr>& StepSolver::memory_before() const {
  return state_->before;
}

}  // namespace detent::solver
