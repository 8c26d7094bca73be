// Making a run that a solver found into one that a person can act out.
#pragma once

#include "solver/run.hpp"
#include "solver/search.hpp"

namespace detent::solver {

/// A run of the same length that also keeps the constraints and makes `watch` true in its last tick and not
/// before, with hands at rest at power-up and as few movements as can be found quickly, and with plain
/// values: large ones at the end. The given run must be one itself.
[[nodiscard]] Run tidied(const Setting& setting, NodeId watch, const Run& run);

}  // namespace detent::solver
