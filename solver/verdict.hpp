// What the engines answer, claim by claim. A verdict always says how far it reaches.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "solver/proof.hpp"
#include "solver/run.hpp"

namespace detent::solver {

enum class Outcome {
  proved,       ///< safety: no run of any length breaks it; `proof` says why
  holds_up_to,  ///< safety: no run of `ticks` ticks breaks it
  refuted,      ///< safety: `run` breaks it in its last tick, and no shorter run does.
                ///< possible forms: no run does it (then there is no run to show; `proof` if for all time)
  shown,        ///< possible: `run` does it in its last tick, and no shorter run does
  undecided,    ///< a limit was reached first; `ticks` says how far it is known. Also a `possible` that no run
                ///< of `ticks` ticks does, where its own bound is not reached
};

enum class Limit {
  none,
  ticks,
  time,
  memory,
  interrupted,
  solver_gave_up,
  run_too_long,  ///< Z3 has an answer, but its run has too many ticks to be played again, and so is not shown
};

struct Verdict {
  std::uint32_t claim = 0;  ///< index into Model::claims
  Outcome outcome = Outcome::undecided;
  Value ticks = 0;          ///< number of ticks for which the answer is known (tick 0 counts as one)
  Limit limit = Limit::none;
  bool vacuous = false;     ///< holds_up_to, but no run of `ticks` ticks makes the premise true
  std::optional<Run> run = {};
  std::optional<Proof> proof = {};
  /// What check_forever knows of an undecided claim: no run of so many events (moments at which something happens,
  /// however much quiet time lies between them) breaks it.
  int events = 0;
};

/// Two lines of a `stages` that can apply together: the shortest run to it, or none within the ticks looked at.
struct OverlapFinding {
  std::uint32_t overlap = 0;  ///< index into Model::overlaps
  std::optional<Run> run = {};
};

struct Statistics {
  std::uint64_t solver_calls = 0;
  std::uint64_t replayed_runs = 0;
  Value unrolled_ticks = 0;
  double seconds = 0;
};

struct Report {
  std::vector<Verdict> verdicts;  ///< in the order of the claims asked for
  std::vector<OverlapFinding> overlaps;
  /// Signals (indices into Model::signals) that have one value only in every run of the ticks looked at.
  std::vector<std::uint32_t> never_change;
  /// Set where the assumptions leave no run of this many ticks: then no verdict means anything.
  std::optional<Value> no_run_of = {};
  /// With no_run_of: assumptions (indices into Model::constraints) that leave none, as few as could be found.
  std::vector<std::uint32_t> contradicting = {};
  Value within = 0;  ///< the ticks that were to be looked at
  Statistics statistics;
};

/// Thrown when two readings of the same circuit disagree: the fault is in this program, never a verdict.
struct InternalDisagreement {
  std::string what;
};

}  // namespace detent::solver
