// Making a run that a solver found into one that a person can act out.
#pragma once

#include "solver/run.hpp"
#include "solver/search.hpp"

namespace detent::solver {

/// A run of the same length that also keeps the constraints and makes `watch` true in its last tick and not
/// before, with as few movements as can be found quickly, and plain values. The given run must be one itself.
[[nodiscard]] Run tidied(const Setting& setting, NodeId watch, const Run& run);

}  // namespace detent::solver
