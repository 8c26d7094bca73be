// So the proof for all values has the same three questions as the one for a single value (solver/proof.hpp),
// only that the place of the value is an unknown in each of them.
#include "solver/family_proof.hpp"

#include <z3++.h>

#include <string>
#include <utility>

#include "solver/family_terms.hpp"
#include "solver/invariant.hpp"
#include "solver/sieve.hpp"
#include "solver/step_terms.hpp"

namespace detent::solver {
namespace {

Clause at_place(const EvenClause& clause, Value row, Value column) {
  Clause plain;
  for (const EvenAtom& one : clause) {
    plain.push_back(one.atom);
    plain.back().limit = one.limit.at(row, column);
  }
  return plain;
}

z3::expr term_of(z3::context& context, const EvenAtom& one, const std::vector<z3::expr>& memory) {
  const z3::expr& first = memory[one.atom.first];
  if (first.is_bool()) return term_of(context, Clause{one.atom}, memory);
  const z3::expr limit = term_of(context, one.limit);
  switch (one.atom.kind) {
    case Atom::Kind::is:
      return first == limit;
    case Atom::Kind::is_not:
      return first != limit;
    case Atom::Kind::at_most:
      return first <= limit;
    case Atom::Kind::at_least:
      return first >= limit;
    case Atom::Kind::difference:
      return first - memory[one.atom.second] <= limit;
  }
  return context.bool_val(true);
}

z3::expr term_of(z3::context& context, const EvenClause& clause, const std::vector<z3::expr>& memory) {
  z3::expr_vector atoms(context);
  for (const EvenAtom& one : clause) atoms.push_back(term_of(context, one, memory));
  return z3::mk_or(atoms);
}

class Prover {
 public:
  Prover(const Family& family, const std::vector<Member>& members, const std::vector<EvenClause>& guesses,
         const Limits& limits)
      : family_(family),
        machine_(family.machine()),
        members_(members),
        guesses_(guesses),
        watchman_(limits, [this] { context_.interrupt(); }) {}

  bool prove(int k) {
    return drop_broken_at_start() && drop_broken_by_step() && none_in_start(k - 1) && follows(k);
  }

 private:
  bool sift(z3::solver& solver, const std::vector<z3::expr>* before, const std::vector<z3::expr>& after) {
    std::vector<z3::expr> held, kept;
    for (const EvenClause& guess : guesses_) {
      held.push_back(before == nullptr ? context_.bool_val(true) : term_of(context_, guess, *before));
      kept.push_back(term_of(context_, guess, after));
    }
    std::vector<z3::expr> seen{unknown_row(context_), unknown_column(context_)};
    seen.insert(seen.end(), after.begin(), after.end());
    Sieve sieve(context_, solver, held, kept, seen, [&](std::size_t guess, const std::vector<Value>& values) {
      const std::vector<Value> memory(values.begin() + 2, values.end());
      return holds(at_place(guesses_[guess], values[0], values[1]), memory);
    });
    if (!sieve.sift()) return false;
    std::vector<EvenClause> left;
    for (std::size_t guess = 0; guess < guesses_.size(); ++guess) {
      if (sieve.alive()[guess]) left.push_back(std::move(guesses_[guess]));
    }
    guesses_ = std::move(left);
    return true;
  }

  z3::solver solver_for_members() {
    z3::solver solver = make_solver(context_);
    add_all(solver, one_of(context_, members_));
    return solver;
  }

  bool drop_broken_at_start() {
    z3::solver solver = solver_for_members();
    const auto start = name_all(context_, solver, starting_memory(context_, machine_), "@start");
    return sift(solver, nullptr, start);
  }

  bool drop_broken_by_step() {
    z3::solver solver = solver_for_members();
    std::vector<z3::expr> facts;
    const std::vector<z3::expr> before = any_memory(context_, machine_, "@before", facts);
    const Step step = make_step(context_, machine_, before, "@step");
    add_all(solver, facts);
    add_all(solver, step.facts);
    const auto after = name_all(context_, solver, step.memory, "@after");
    return sift(solver, &before, after);
  }

  /// No run of so many steps has it true.
  bool none_in_start(int steps) {
    z3::solver solver = solver_for_members();
    std::vector<z3::expr> memory = starting_memory(context_, machine_);
    for (int step = 0; step < steps; ++step) {
      const std::string suffix = "@" + std::to_string(step);
      memory = name_all(context_, solver, memory, suffix);
      const Step made = make_step(context_, machine_, memory, suffix);
      add_all(solver, made.facts);
      z3::expr_vector watched(context_);
      watched.push_back(made.values[family_.watch()]);
      if (solver.check(watched) != z3::unsat) return false;
      memory = made.memory;
    }
    return true;
  }

  bool follows(int k) {
    z3::solver solver = solver_for_members();
    std::vector<z3::expr> facts;
    std::vector<z3::expr> memory = any_memory(context_, machine_, "@0", facts);
    add_all(solver, facts);
    for (int step = 0; step < k; ++step) {
      if (step > 0) memory = name_all(context_, solver, memory, "@" + std::to_string(step));
      for (const EvenClause& clause : guesses_) solver.add(term_of(context_, clause, memory));
      const Step made = make_step(context_, machine_, memory, "@" + std::to_string(step));
      add_all(solver, made.facts);
      const z3::expr& watched = made.values[family_.watch()];
      solver.add(step + 1 < k ? !watched : watched);
      memory = made.memory;
    }
    return solver.check() == z3::unsat;
  }

  const Family& family_;
  const Machine& machine_;
  const std::vector<Member>& members_;
  std::vector<EvenClause> guesses_;
  z3::context context_;
  Watchman watchman_;
};

}  // namespace

bool prove_family(const Family& family, const std::vector<Member>& members,
                  const std::vector<EvenClause>& guesses, int k, const Limits& limits) {
  try {
    // Where it has been stopped, at whatever place, an answer counts for nothing.
    return Prover(family, members, guesses, limits).prove(k) && limits.reached() == Limit::none;
  } catch (const z3::exception&) {
    return false;  // stopped
  }
}

}  // namespace detent::solver
