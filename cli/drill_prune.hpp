// Rounds that turn out to be needless once the others are there. Private to the study.
#pragma once

#include <vector>

#include "cli/drill_decisions.hpp"
#include "cli/drill_study.hpp"

namespace detent::cli {

/// Leaves out every round that was worked out and that shows nothing the others don't: no goal, no valuation
/// of the decisions' sets, no change. What was met and told is told anew.
void prune(DrillStudy& study, const std::vector<OpenDecision>& decisions, const dsl::Compiled& compiled);

}  // namespace detent::cli
