#include "solver/invariant.hpp"

#include <z3++.h>

#include <algorithm>

namespace detent::solver {
namespace {

z3::expr term_of_atom(z3::context& context, const Atom& atom, const std::vector<z3::expr>& memory) {
  const z3::expr& first = memory[atom.first];
  const auto limit = [&] { return context.int_val(static_cast<std::int64_t>(atom.limit)); };
  switch (atom.kind) {
    case Atom::Kind::is:
      return first.is_bool() ? (atom.limit != 0 ? first : !first) : first == limit();
    case Atom::Kind::is_not:
      return first.is_bool() ? (atom.limit != 0 ? !first : first) : first != limit();
    case Atom::Kind::at_most:
      return first <= limit();
    case Atom::Kind::at_least:
      return first >= limit();
    case Atom::Kind::difference:
      return first - memory[atom.second] <= limit();
  }
  return context.bool_val(true);
}

}  // namespace

bool holds(const Atom& atom, const std::vector<Value>& memory) {
  const Value first = memory[atom.first];
  switch (atom.kind) {
    case Atom::Kind::is:
      return first == atom.limit;
    case Atom::Kind::is_not:
      return first != atom.limit;
    case Atom::Kind::at_most:
      return first <= atom.limit;
    case Atom::Kind::at_least:
      return first >= atom.limit;
    case Atom::Kind::difference:
      return first - memory[atom.second] <= atom.limit;
  }
  return false;
}

bool holds(const Clause& clause, const std::vector<Value>& memory) {
  return std::any_of(clause.begin(), clause.end(), [&](const Atom& atom) { return holds(atom, memory); });
}

Atom opposite(const Atom& atom) {
  Atom result = atom;
  switch (atom.kind) {
    case Atom::Kind::is:
      result.kind = Atom::Kind::is_not;
      break;
    case Atom::Kind::is_not:
      result.kind = Atom::Kind::is;
      break;
    case Atom::Kind::at_most:
      result.kind = Atom::Kind::at_least;
      result.limit = atom.limit + 1;
      break;
    case Atom::Kind::at_least:
      result.kind = Atom::Kind::at_most;
      result.limit = atom.limit - 1;
      break;
    case Atom::Kind::difference:
      std::swap(result.first, result.second);
      result.limit = -atom.limit - 1;
      break;
  }
  return result;
}

z3::expr term_of(z3::context& context, const Clause& clause, const std::vector<z3::expr>& memory) {
  if (clause.size() == 1) {
    return term_of_atom(context, clause.front(), memory);
  }
  z3::expr_vector atoms(context);
  for (const Atom& atom : clause) {
    atoms.push_back(term_of_atom(context, atom, memory));
  }
  return z3::mk_or(atoms);
}

}  // namespace detent::solver
