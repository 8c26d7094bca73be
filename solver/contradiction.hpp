// Which assumptions contradict each other.
#pragma once

#include <cstdint>
#include <vector>

#include "dsl/model.hpp"
#include "solver/limits.hpp"
#include "solver/verdict.hpp"

namespace detent::solver {

/// Indices into Model::constraints: a few that leave no run of `ticks` ticks, where all of them leave none.
/// None of them can be spared, unless a limit is reached first: then there may be more than need be.
[[nodiscard]] std::vector<std::uint32_t> contradicting(const dsl::Model& model, Value ticks,
                                                       const Limits& limits, Statistics& statistics);

}  // namespace detent::solver
