// What a solver is given for a claim, taken apart: one tick, line by line of the design, and what is asked
// about it. Every piece of SMT-LIB is a line of solver/smtlib.hpp, as the evidence has it; nothing is written
// anew.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "dsl/front.hpp"
#include "solver/smtlib.hpp"
#include "solver/verdict.hpp"

namespace detent::cli {

struct ExplainedPiece {
  std::string where;             ///< "line 22"; "" where it is about no line of the design
  std::string source;            ///< that line, without blanks at its ends
  std::string words;             ///< a sentence or more
  std::vector<std::string> smt;  ///< in order; may be empty where another piece has it all
};

/// The pieces in an order in which a solver can read them.
struct Explanation {
  bool proof = false;                       ///< there is one; else there is no invariant to show
  int k = 1;                                ///< steps of the induction
  std::vector<ExplainedPiece> remembered;   ///< from the tick before
  std::vector<ExplainedPiece> before;       ///< and what it is before tick 0
  std::vector<ExplainedPiece> tick;         ///< hands and elements
  std::vector<ExplainedPiece> assumptions;  ///< what is assumed, and rate limits
  ExplainedPiece claim;                     ///< what is watched
  std::vector<ExplainedPiece> afterwards;   ///< quiet ticks, and what is remembered next
  std::vector<std::string> later_steps;     ///< SMT-LIB of the steps behind the first (k > 1)
  std::vector<ExplainedPiece> invariant;    ///< first its definition, then a sentence for each fact in it
  ExplainedPiece start, step, broken;       ///< the three questions
};

/// `compiled` has a model, and the verdict is of one of its claims.
[[nodiscard]] Explanation explain(const dsl::Compiled& compiled, const solver::Verdict& verdict);

}  // namespace detent::cli
