// Why: what a proof rests on, and what led to the end of a run.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "dsl/model.hpp"
#include "solver/proof.hpp"
#include "solver/run.hpp"

namespace detent::solver {

/// What a proof rests on.
struct ProofReasons {
  std::vector<std::uint32_t> needed;      ///< Model::signals: none of these could be anything else
  std::vector<std::uint32_t> not_needed;  ///< all of these could be anything at all, at once
  std::vector<std::size_t> assumptions;   ///< Model::constraints without which the proof fails
};

/// Cuts signals and assumptions loose, one after another, as long as the proof still goes through. What is
/// left is needed together; another order might leave others.
/// Asks Z3, in the calling thread, and is not to be stopped.
[[nodiscard]] ProofReasons reasons_for(const dsl::Model& model, const Proof& proof);

/// A signal takes a value at a tick (or has it from tick 0 on), because of others.
struct Cause {
  std::uint32_t signal = 0;               ///< index into Model::signals
  std::size_t tick = 0;                   ///< in which it takes the value
  Value value = 0;                        ///< said by Signal::sort
  std::vector<std::size_t> because = {};  ///< indices into the list of causes, all of them earlier in it
};

/// What made `condition` what it is in the last tick of the run, back to the hands: only what led to it, in
/// order of time. Where one of several would have been enough, the one that was there longest is taken.
[[nodiscard]] std::vector<Cause> causes_of(const dsl::Model& model, NodeId condition, const Run& run);

}  // namespace detent::solver
