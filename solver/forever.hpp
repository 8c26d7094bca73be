// Checking for all time: every claim proved with an invariant, or refuted with a shortest run.
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

struct ForeverOptions {
  std::vector<std::uint32_t> claims = {};  ///< indices into Model::claims; empty: all
  /// For each group of claims that look at the same part of the design; so no claim is worked on for longer.
  std::optional<std::chrono::milliseconds> timeout = {};
  std::optional<std::size_t> memory_mib = {};  ///< for the solver, whole process
  const std::atomic<bool>* cancel = nullptr;   ///< set from outside (any thread) to stop soon
  std::function<void(std::size_t open)> progress =
      {};                     ///< questions left; from several threads, one at a time
  unsigned jobs = 1;          ///< threads, at least 1
  bool side_findings = true;  ///< also look for overlapping moves and signals that never change
  bool small_proofs = false;  ///< cut invariants down to what each proof needs
};

/// Never throws for limits: what is not known by then is reported undecided, with the number of events for
/// which it is known. Report::within is 0. Throws InternalDisagreement.
[[nodiscard]] Report check_forever(const dsl::Model& model, const ForeverOptions& options);

}  // namespace detent::solver
