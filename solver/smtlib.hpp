// Proofs as questions for any SMT solver (SMT-LIB 2.6): readable, commented, and made without Z3.
#pragma once

#include <string>

#include "dsl/model.hpp"
#include "solver/proof.hpp"

namespace detent::solver {

/// Three questions; a proof is right if a solver answers `unsat` to each.
struct ProofText {
  std::string
      start;  ///< does the invariant fail before tick 0 (or, for k > 1, is the claim broken in k-1 steps)?
  std::string step;   ///< can a step lead from where the invariant holds to where it does not?
  std::string claim;  ///< can the claim be broken where the invariant holds (k > 1: after k-1 steps without)?
};

/// `title` goes into the comments: the claim's name and sentence, one line each.
[[nodiscard]] ProofText proof_text(const dsl::Model& model, const Proof& proof, const std::string& title);

/// Lines between which each of the three holds the same text: the invariant, and what a step is.
inline constexpr const char* invariant_begins = ";; ---- invariant";
inline constexpr const char* invariant_ends = ";; ---- end of invariant";
inline constexpr const char* step_begins = ";; ---- first step";
inline constexpr const char* step_ends = ";; ---- end of first step";

}  // namespace detent::solver
