// Guesses at invariants, read off sampled memories. Guesses cost little and prove nothing: solver/induction.hpp
// keeps those that Z3 shows to be inductive.
#pragma once

#include <vector>

#include "solver/invariant.hpp"
#include "solver/machine.hpp"

namespace detent::solver {

/// How rich the guesses are; each level holds those before it.
enum class Richness {
  plain,    ///< one or two literals; differences of two clocks
  guarded,  ///< differences and bounds of clocks where a literal holds
  triples,  ///< three literals; differences where two literals hold
};

/// All clauses of this richness that every sample obeys, none of them implied by a shorter one among them.
[[nodiscard]] std::vector<Clause> guess(const Machine& machine, const std::vector<std::vector<Value>>& samples,
                                        Richness richness);

}  // namespace detent::solver
