// A proof for many values of a tunable at once. Private to the solver.
#pragma once

#include <vector>

#include "solver/even_guesses.hpp"
#include "solver/family.hpp"
#include "solver/limits.hpp"

namespace detent::solver {

/// Whether Z3 shows that the family's watch is never true at any of these members, in any run: what is left
/// of the guesses when all that are not kept up by the rest are thrown out is an invariant for all of them,
/// and the claim follows from it by k-induction. False says nothing.
[[nodiscard]] bool prove_family(const Family& family, const std::vector<Member>& members,
                                const std::vector<EvenClause>& guesses, int k, const Limits& limits);

}  // namespace detent::solver
