// Bounded checking: every claim, over every run of up to N ticks, shortest violation first.
#pragma once

#include <atomic>
#include <chrono>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "dsl/model.hpp"
#include "solver/verdict.hpp"

namespace detent::solver {

struct Progress {
  Value ticks_done = 0;
  Value ticks_asked = 0;
  std::size_t claims_open = 0;
};

struct BoundedOptions {
  Value within = 0;                                       ///< number of ticks to look at, >= 1
  std::vector<std::uint32_t> claims = {};                 ///< indices into Model::claims; empty: all
  std::optional<std::chrono::milliseconds> timeout = {};  ///< for the whole call
  std::optional<std::size_t> memory_mib = {};             ///< for the solver, whole process
  const std::atomic<bool>* cancel = nullptr;              ///< set from outside (any thread) to stop soon
  std::function<void(const Progress&)> progress = {};     ///< called now and then from the calling thread
  bool side_findings = true;  ///< also look for overlapping moves and signals that never change
};

/// Never throws for limits: what is not known by then is reported undecided. Throws InternalDisagreement.
///
/// A run that breaks or shows a claim may be known before it is known to be the shortest. Where a limit comes
/// in between, the claim is refuted or shown by that run all the same, with that limit set: then no run of
/// `ticks` ticks does it, and one between `ticks` and the run's own length may. `never_change` leaves out
/// signals that are constant by their text.
[[nodiscard]] Report check_bounded(const dsl::Model& model, const BoundedOptions& options);

}  // namespace detent::solver
