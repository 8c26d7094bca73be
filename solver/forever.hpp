// Checking for all time: every claim proved with an invariant, or refuted with a shortest run.
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

/// How far to go, and who is told.
struct ForeverOptions {
  std::vector<std::uint32_t> claims = {};  ///< indices into Model::claims; empty: all
  /// For each group of claims that look at the same part of the design; so no claim is worked on for longer.
  std::optional<std::chrono::milliseconds> timeout = {};
  std::optional<std::size_t> memory_mib = {};  ///< what Z3 may use; see check_forever
  Cancel cancel = {};                          ///< whether to stop
  /// Questions that are still worked on: claims, their premises, and what is looked at beside them. The
  /// number only falls, and is 0 at the end. Called from several threads, one at a time; keep it short.
  std::function<void(std::size_t open)> progress = {};
  unsigned jobs = 1;          ///< threads, at least 1
  bool side_findings = true;  ///< also look for overlapping moves and signals that never change
  bool small_proofs = false;  ///< cut invariants down to what each proof needs
};

/// Decides claims for runs of any length. Never throws for limits: what is not known by then is reported
/// undecided, with the number of events for which it is known. Report::within is 0. Throws
/// InternalDisagreement, std::bad_alloc, std::system_error where no thread can be had, and what `progress`
/// throws, which ends the check.
///
/// Threads: any number of checks may go on at the same time, each in threads and with a Z3 of its own; the
/// model is only read, and copied. One thing belongs to the whole process, because Z3 has it so:
/// `memory_mib`. With several checks at once give it to none, or the same to all, and expect that the first
/// to end lifts Z3's own limit. Signals are left alone.
[[nodiscard]] Report check_forever(const dsl::Model& model, const ForeverOptions& options);

}  // namespace detent::solver
