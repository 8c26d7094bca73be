// A proof for many values of a tunable at once. Private to the solver.
#pragma once

#include <vector>

#include "solver/family.hpp"
#include "solver/limits.hpp"
#include "solver/proof.hpp"

namespace detent::solver {

/// As Atom, with a limit that grows with the value.
struct EvenAtom {
  Atom atom;
  Even limit;
  friend bool operator==(const EvenAtom&, const EvenAtom&) = default;
};
using EvenClause = std::vector<EvenAtom>;

/// What a proof at the family's first member rests on, said for all of them: each of its numbers as each of the
/// sums and differences of the design's own numbers that it may be. Guesses.
[[nodiscard]] std::vector<EvenClause> said_evenly(const Family& family, const dsl::Model& model,
                                                  const Proof& proof);

/// How often, at this member, two sums or differences of the design's own numbers lie so near to each other that a
/// number of a proof could be read as either: a proof is said evenly the better the fewer there are.
[[nodiscard]] std::size_t ambiguities(const Family& family, const Member& member);

/// Whether Z3 shows that the family's watch is never true at any of these members, in any run: what is left of
/// the guesses when all that are not kept up by the rest are thrown out is an invariant for all of them, and the
/// claim follows from it by k-induction. False says nothing.
[[nodiscard]] bool prove_family(const Family& family, const std::vector<Member>& members,
                                const std::vector<EvenClause>& guesses, int k, const Limits& limits);

}  // namespace detent::solver
