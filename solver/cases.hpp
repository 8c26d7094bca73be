// Many models that differ little from each other, and what becomes of their claims: for faults and for slips.
#pragma once

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "dsl/model.hpp"
#include "solver/cancel.hpp"
#include "solver/memo.hpp"
#include "solver/verdict.hpp"

namespace detent::solver {

/// One model and the claims (indices into Model::claims) that are asked of it.
struct Case {
  dsl::Model model;                   ///< of its own
  std::vector<std::uint32_t> claims;  ///< indices into its Model::claims
};

/// What became of a case.
struct CaseAnswer {
  bool looked_at = false;               ///< false: stopped before its turn came
  std::vector<Verdict> verdicts = {};   ///< in the order of Case::claims; empty where there is no run
  std::optional<Value> no_run_of = {};  ///< set where the assumptions leave no run of this many ticks
};

/// How far to go, and who is told.
struct CaseOptions {
  std::optional<std::chrono::milliseconds> timeout = {};  ///< for each claim of each case
  std::optional<std::size_t> memory_mib = {};             ///< what Z3 may use; see check_forever
  Cancel cancel = {};                                     ///< whether to stop
  std::function<void(std::size_t done)> progress =
      {};             ///< cases that are done; from several threads, one at a time
  unsigned jobs = 1;  ///< threads, at least 1
  /// Whether a broken claim is to come with a shortest run. Without, any sign that it breaks will do, and a
  /// verdict `refuted` or `shown` may have no run.
  bool wants_runs = true;
};

/// What became of all of them.
struct CasesReport {
  std::vector<CaseAnswer> answers;  ///< by case
  std::size_t asked = 0;            ///< claims that were put to the engine
  std::size_t known = 0;            ///< claims that looked at the same circuit as one that was decided before
  std::size_t by_chance = 0;        ///< claims that chance broke, on the interpreter alone
  double seconds = 0;               ///< from beginning to end, by the clock on the wall
};

/// Answers every case, of which `make` makes the one asked for when its turn comes (from several threads). A
/// claim whose circuit is the same, node by node, as that of a claim decided before is not asked again;
/// `memo` keeps that from one call to the next. Verdicts come without proofs. Never throws for limits. Throws
/// InternalDisagreement, and whatever `make` throws. Threads: as for check_forever.
[[nodiscard]] CasesReport check_cases(std::size_t count, const std::function<Case(std::size_t)>& make,
                                      const CaseOptions& options, Memo& memo);

}  // namespace detent::solver
