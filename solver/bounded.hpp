// Bounded checking: every claim, over every run of up to N ticks, shortest violation first.
#pragma once

#include <chrono>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "dsl/model.hpp"
#include "solver/cancel.hpp"
#include "solver/verdict.hpp"

namespace detent::solver {

/// How far a check has come.
struct Progress {
  /// So many have been looked at; only grows. A question that is hard is put aside meanwhile, and comes last.
  Value ticks_done = 0;
  Value ticks_asked = 0;        ///< BoundedOptions::within
  std::size_t claims_open = 0;  ///< claims, and premises of claims, that are not settled; only falls
};

/// How far to go, and who is told.
struct BoundedOptions {
  Value within = 0;                                       ///< number of ticks to look at, >= 1
  std::vector<std::uint32_t> claims = {};                 ///< indices into Model::claims; empty: all
  std::optional<std::chrono::milliseconds> timeout = {};  ///< for the whole call
  std::optional<std::size_t> memory_mib = {};             ///< what Z3 may use; see check_forever
  Cancel cancel = {};                                     ///< whether to stop
  std::function<void(const Progress&)> progress = {};     ///< called now and then from the calling thread
  bool side_findings = true;  ///< also look for overlapping moves and signals that never change
};

/// Decides claims for runs of up to `within` ticks, in the calling thread. Never throws for limits: what is
/// not known by then is reported undecided. Throws InternalDisagreement, std::bad_alloc, std::system_error
/// where no thread can be had, and what `progress` throws, which ends the check. Threads: as for
/// check_forever.
///
/// A run that breaks or shows a claim may be known before it is known to be the shortest. Where a limit comes
/// in between, the claim is refuted or shown by that run all the same, with that limit set: then no run of
/// `ticks` ticks does it, and one between `ticks` and the run's own length may. `never_change` leaves out
/// signals that are constant by their text.
[[nodiscard]] Report check_bounded(const dsl::Model& model, const BoundedOptions& options);

}  // namespace detent::solver
