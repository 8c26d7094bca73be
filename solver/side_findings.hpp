// What a check finds beside the claims: moves of stages that can apply together, and signals that never
// change.
#pragma once

#include "dsl/model.hpp"
#include "solver/explore.hpp"
#include "solver/limits.hpp"
#include "solver/search.hpp"
#include "solver/verdict.hpp"

namespace detent::solver {

/// Fills in `overlaps` and `never_change` of the report. `sights` are those of an earlier look round; what is
/// not known when a limit is reached is left out.
void find_aside(const dsl::Model& model, const Setting& setting, Value ticks, const Sights& sights,
                const Limits& limits, Report& report);

}  // namespace detent::solver
