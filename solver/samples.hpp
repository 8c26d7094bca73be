// What a machine can remember, seen by letting it run: the source of guesses at invariants.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "solver/machine.hpp"

namespace detent::solver {

struct SampleOptions {
  std::size_t runs = 40;
  std::size_t steps = 60;  ///< per run
  std::uint64_t seed = 1;
};

/// Distinct memories, in the order in which they were met, on random runs that keep the constraints, step by
/// skipped step. Always the same for the same options.
[[nodiscard]] std::vector<std::vector<Value>> sample_memories(const Machine& machine, const SampleOptions& options);

}  // namespace detent::solver
