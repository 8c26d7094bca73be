// Guesses at invariants, read off sampled memories. Guesses cost little and prove nothing:
// solver/induction.hpp keeps those that Z3 shows to be inductive.
#pragma once

#include <vector>

#include "solver/invariant.hpp"
#include "solver/limits.hpp"
#include "solver/machine.hpp"

namespace detent::solver {

/// How rich the guesses are; each level holds those before it.
enum class Richness {
  plain,    ///< one or two literals; differences of two clocks
  guarded,  ///< differences and bounds of clocks where a literal holds
  triples,  ///< three literals; differences where two literals hold
};

/// All clauses of this richness that every sample obeys. A clause is left out where a shorter one implies it
/// that the samples obey as well; or, if `known` is given, only where that shorter one is known to be an
/// invariant: what no sample has shown may be possible all the same, and then only the longer clause is true.
/// Where a limit is reached, or there are very many, not all.
[[nodiscard]] std::vector<Clause> guess(const Machine& machine,
                                        const std::vector<std::vector<Value>>& samples, Richness richness,
                                        const Limits& limits, const Invariant* known = nullptr);

}  // namespace detent::solver
