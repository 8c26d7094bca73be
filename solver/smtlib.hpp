// Proofs as questions for any SMT solver (SMT-LIB 2.6): readable, commented, and made without Z3.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

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

/// A line of these texts (or a few that belong together), and what it was written for.
struct ProofLine {
  /// What a line is for.
  enum class Part : std::uint8_t {
    frame,       ///< comments, marks, logic, and the end
    remembered,  ///< what is remembered before the first step; `node` is the `previous` or `age`
    start,       ///< its value before tick 0
    invariant,   ///< its definition
    hand,        ///< an input and its range
    gate,        ///< a node's value in this tick
    constraint,  ///< a condition that holds in every tick
    quiet,       ///< the quiet ticks of a step, and ramps that go on in them
    next,        ///< what is remembered after the step; `node` as above
    question,    ///< what is asked
  };
  Part part = Part::frame;     ///< what it is for
  NodeId node = dsl::no_node;  ///< of the whole circuit, where it is about one
  int step = 0;                ///< which step it belongs to, from 0 on
  std::string text;            ///< without the last line end
};

/// The lines of which proof_text is made.
struct ProofLines {
  std::vector<ProofLine> start;  ///< of ProofText::start
  std::vector<ProofLine> step;   ///< of ProofText::step
  std::vector<ProofLine> claim;  ///< of ProofText::claim
};
/// `model` and `proof` as for proof_text.
[[nodiscard]] ProofLines proof_lines(const dsl::Model& model, const Proof& proof, const std::string& title);

/// The proof that check_forever gave for a claim of this very model, as three texts that any SMT solver
/// reads. `title` goes into the comments: the claim's name and sentence, one line each.
[[nodiscard]] ProofText proof_text(const dsl::Model& model, const Proof& proof, const std::string& title);

/// Lines between which each of the three holds the same text: the invariant, and what a step is.
inline constexpr const char* invariant_begins = ";; ---- invariant";
inline constexpr const char* invariant_ends = ";; ---- end of invariant";  ///< see invariant_begins
inline constexpr const char* step_begins = ";; ---- first step";           ///< see invariant_begins
inline constexpr const char* step_ends = ";; ---- end of first step";      ///< see invariant_begins

}  // namespace detent::solver
