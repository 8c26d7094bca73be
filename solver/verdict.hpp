// What the engines answer, claim by claim. A verdict always says how far it reaches.
#pragma once

#include <cstdint>
#include <optional>
#include <stdexcept>
#include <vector>

#include "solver/proof.hpp"
#include "solver/run.hpp"

namespace detent::solver {

/// What became of a claim.
enum class Outcome {
  proved,       ///< safety: no run of any length breaks it; `proof` says why
  holds_up_to,  ///< safety: no run of `ticks` ticks breaks it
  refuted,      ///< safety: `run` breaks it in its last tick, and no shorter run does.
                ///< possible forms: no run does it (then there is no run to show; `proof` if for all time)
  shown,        ///< possible: `run` does it in its last tick, and no shorter run does
  undecided,  ///< a limit was reached first; `ticks` says how far it is known. Also a `possible` that no run
              ///< of `ticks` ticks does, where its own bound is not reached
};

/// Why a claim is undecided.
enum class Limit {
  none,            ///< it is not
  ticks,           ///< no more ticks were to be looked at
  time,            ///< the time allowed has passed
  memory,          ///< the memory allowed is used up
  interrupted,     ///< somebody said stop (solver/cancel.hpp)
  solver_gave_up,  ///< Z3 did not come to an answer
  run_too_long,  ///< Z3 has an answer, but its run has too many ticks to be played again, and so is not shown
};

/// What is known of one claim.
struct Verdict {
  std::uint32_t claim = 0;               ///< index into Model::claims
  Outcome outcome = Outcome::undecided;  ///< says which of the rest are there
  Value ticks = 0;            ///< number of ticks for which the answer is known (tick 0 counts as one)
  Limit limit = Limit::none;  ///< undecided: why. With a run: why it is not known to be the shortest
  /// Proved, or holds_up_to; but no run (of `ticks` ticks) makes the premise true, so that the claim says
  /// nothing.
  bool vacuous = false;
  std::optional<Run> run = {};      ///< the evidence of `refuted` and `shown`
  std::optional<Proof> proof = {};  ///< the evidence of `proved`, and of `refuted` for a possible form
  /// What check_forever knows of an undecided claim: no run of so many events (moments at which something
  /// happens, however much quiet time lies between them) breaks it.
  int events = 0;
};

/// Two lines of a `stages` that can apply together: the shortest run to it, or none within the ticks looked
/// at.
struct OverlapFinding {
  std::uint32_t overlap = 0;    ///< index into Model::overlaps
  std::optional<Run> run = {};  ///< in its last tick both lines apply
};

/// What it cost.
struct Statistics {
  std::uint64_t solver_calls = 0;   ///< questions put to Z3
  std::uint64_t replayed_runs = 0;  ///< runs played again by the interpreter
  Value unrolled_ticks = 0;         ///< check_bounded: the most ticks that one question looked at
  double seconds = 0;               ///< from beginning to end, by the clock on the wall
};

/// The answer to a check. A value, with nothing behind it.
struct Report {
  std::vector<Verdict> verdicts;         ///< in the order of the claims asked for
  std::vector<OverlapFinding> overlaps;  ///< one for each of Model::overlaps, where they were looked for
  /// Signals (indices into Model::signals) that have one value only in every run of the ticks looked at.
  std::vector<std::uint32_t> never_change;
  /// Set where the assumptions leave no run of this many ticks: then no verdict means anything.
  std::optional<Value> no_run_of = {};
  /// With no_run_of: assumptions (indices into Model::constraints) that leave none, as few as could be found.
  std::vector<std::uint32_t> contradicting = {};
  Value within = 0;       ///< the ticks that were to be looked at
  Statistics statistics;  ///< of the whole check
};

/// Thrown when two readings of the same circuit disagree, or Z3 refuses a question: the fault is in this
/// library, and nothing is known of any claim. what() says which readings, for a report of the fault.
class InternalDisagreement : public std::logic_error {
 public:
  using std::logic_error::logic_error;
};

}  // namespace detent::solver
