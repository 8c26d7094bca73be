// The interpreter's word on a run that Z3 has found.
#pragma once

#include "dsl/model.hpp"
#include "solver/run.hpp"

namespace detent::solver {

/// Whether the run is one of the model's that keeps all its constraints, and the condition is true in its
/// last tick.
[[nodiscard]] bool is_confirmed(const dsl::Model& model, const Run& run, dsl::NodeId condition);

}  // namespace detent::solver
