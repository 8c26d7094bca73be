// A proof at one value is full of that value's numbers: "this clock is at most 5 ahead of that one". For the
// neighbour it would be 6. Which number of the design a 5 comes from is not written in the proof, so each number is
// tried as everything that it may be: itself; a limit of the design; the difference of two; give or take two.
// (The numbers of solver/guesses.cpp are made of the same.) The wrong readings fall out by themselves when Z3 is
// asked for a step, at any of the values, that breaks one.
//
// So the proof for all values has the same three questions as the one for a single value (solver/proof.hpp), only
// that the place of the value is an unknown in each of them.
#include "solver/family_proof.hpp"

#include <z3++.h>

#include <algorithm>
#include <iterator>
#include <set>
#include <string>
#include <tuple>

#include "solver/family_terms.hpp"
#include "solver/invariant.hpp"
#include "solver/sieve.hpp"
#include "solver/step_terms.hpp"

namespace detent::solver {
namespace {

constexpr std::size_t most_readings = 48;  ///< of one clause
constexpr std::size_t most_guesses = 6000;
constexpr Value near = 2;

bool same_slope(const Even& one, const Even& other) {
  return one.per_row == other.per_row && one.per_column == other.per_column;
}

/// The design's own numbers that clocks and others are compared with, and 0; each once.
std::vector<Even> numbers_of(const Family& family) {
  std::vector<Even> numbers{{}};
  const auto add = [&](const Even& number) {
    if (std::find(numbers.begin(), numbers.end(), number) == numbers.end()) numbers.push_back(number);
  };
  for (const auto& [standing_for, number] : family.unknown()) add(number);
  for (const Memory& memory : family.machine().memories) {
    for (const Value limit : memory.limits) {
      if (!family.unknown().contains(limit)) add({limit, 0, 0});
    }
  }
  return numbers;
}

class Reader {
 public:
  Reader(const Family& family, const dsl::Model& model, const Proof& proof)
      : family_(family), first_(family.members().front()), numbers_(numbers_of(family)) {
    const Slice slice = slice_for(model, proof.slice_of);
    for (const Memory& memory : machine_of(slice, model, proof.slice_of).memories) {
      index_of_.push_back(family.memory_of(slice.whole_of[memory.node]));
      ends_.push_back(memory.clock ? memory.range.high : 0);
    }
  }

  void read(const Clause& clause, std::vector<EvenClause>& guesses) const {
    std::vector<EvenClause> readings{{}};
    for (const Atom& atom : clause) {
      const bool two = atom.kind == Atom::Kind::difference;
      if (index_of_[atom.first] == Family::no_memory || (two && index_of_[atom.second] == Family::no_memory)) {
        return;  // of another claim that was proved with this one
      }
      std::vector<EvenClause> longer;
      for (const Even& limit : readings_of(atom)) {
        for (const EvenClause& one : readings) {
          if (longer.size() == most_readings) break;
          longer.push_back(one);
          longer.back().push_back({atom, limit});
          longer.back().back().atom.first = index_of_[atom.first];
          if (two) longer.back().back().atom.second = index_of_[atom.second];
        }
      }
      readings = std::move(longer);
    }
    guesses.insert(guesses.end(), readings.begin(), readings.end());
  }

 private:
  [[nodiscard]] std::vector<Even> readings_of(const Atom& atom) const {
    const Memory& memory = family_.machine().memories[index_of_[atom.first]];
    if (memory.clock && atom.kind == Atom::Kind::at_least && atom.limit == ends_[atom.first]) {
      return {{memory.range.high, 0, 0}};  // "does not count any more"
    }
    std::vector<Even> found{{atom.limit, 0, 0}};
    if (memory.condition) return found;
    for (const Even& plus : numbers_) {
      for (const Even& minus : numbers_) {
        if (same_slope(plus, minus)) continue;
        Even sum{plus.base - minus.base, plus.per_row - minus.per_row, plus.per_column - minus.per_column};
        const Value more = atom.limit - sum.at(first_.row, first_.column);
        sum.base += more;
        const bool is_near = -near <= more && more <= near;
        if (is_near && std::find(found.begin(), found.end(), sum) == found.end()) found.push_back(sum);
      }
    }
    return found;
  }

  const Family& family_;
  const Member& first_;
  std::vector<std::uint32_t> index_of_;  ///< by memory of the proof
  std::vector<Value> ends_;              ///< by memory of the proof: where a clock stops counting
  std::vector<Even> numbers_;
};

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

  bool prove(int k) { return drop_broken_at_start() && drop_broken_by_step() && none_in_start(k - 1) && follows(k); }

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
    z3::solver solver(context_, z3::solver::simple());
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

std::vector<EvenClause> said_evenly(const Family& family, const dsl::Model& model, const Proof& proof) {
  const Reader reader(family, model, proof);
  std::vector<EvenClause> guesses;
  for (const Clause& clause : proof.invariant) {
    if (guesses.size() < most_guesses) reader.read(clause, guesses);
  }
  return guesses;
}

std::size_t ambiguities(const Family& family, const Member& member) {
  const std::vector<Even> numbers = numbers_of(family);
  std::set<std::tuple<Value, Value, Value>> sums;  // slopes, and where it is at the member
  for (const Even& plus : numbers) {
    for (const Even& minus : numbers) {
      sums.emplace(plus.at(member.row, member.column) - minus.at(member.row, member.column),
                   plus.per_row - minus.per_row, plus.per_column - minus.per_column);
    }
  }
  std::size_t count = 0;
  for (auto one = sums.begin(); one != sums.end(); ++one) {
    for (auto other = std::next(one); other != sums.end(); ++other) {
      if (std::get<0>(*other) - std::get<0>(*one) > 2 * near) break;
      const bool grow_alike = std::get<1>(*one) == std::get<1>(*other) && std::get<2>(*one) == std::get<2>(*other);
      count += grow_alike ? 0U : 1U;
    }
  }
  return count;
}

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
