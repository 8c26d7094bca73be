// Guesses at what holds at many values of a tunable, from what a proof at one of them rests on. Private to
// the solver.
#pragma once

#include <compare>
#include <vector>

#include "solver/family.hpp"
#include "solver/proof.hpp"

namespace detent::solver {

/// As Atom, with a limit that grows with the value.
struct EvenAtom {
  Atom atom;
  Even limit;
  friend auto operator<=>(const EvenAtom&,
                          const EvenAtom&) = default;  // NOLINT(modernize-use-nullptr): 0 is its own
};
using EvenClause = std::vector<EvenAtom>;

/// What a proof at the family's first member rests on, said for all of them: each of its numbers as each of
/// the sums and differences of the design's own numbers that it may be. Guesses.
[[nodiscard]] std::vector<EvenClause> said_evenly(const Family& family, const dsl::Model& model,
                                                  const Proof& proof);

/// How often, at this member, two sums or differences of the design's own numbers lie so near to each other
/// that a number of a proof could be read as either: a proof is said evenly the better the fewer there are.
[[nodiscard]] std::size_t ambiguities(const Family& family, const Member& member);

}  // namespace detent::solver
