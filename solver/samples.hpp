// What a machine can remember, seen by letting it run: the source of guesses at invariants.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "solver/limits.hpp"
#include "solver/machine.hpp"

namespace detent::solver {

struct SampleOptions {
  std::size_t runs = 40;
  std::size_t steps = 60;  ///< per run
  std::uint64_t seed = 1;
  const Limits* limits = nullptr;  ///< looked at before each step; runs end there
};

struct Samples {
  std::vector<std::vector<Value>> memories;  ///< distinct, in the order in which they were met
  std::vector<bool> seen;                    ///< by condition asked about: it was true in some tick
  std::size_t longest = 0;                   ///< steps of the longest run
};

/// Random runs that keep the constraints, step by skipped step. Always the same for the same options.
[[nodiscard]] Samples sample(const Machine& machine, const std::vector<NodeId>& conditions,
                             const SampleOptions& options);

}  // namespace detent::solver
