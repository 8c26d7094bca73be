// The decisions of a design as truth functions, and which of their valuations a bench list has to go through.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "cli/drill_study.hpp"
#include "dsl/drill_points.hpp"

namespace detent::cli {

/// A decision while the list is made.
struct OpenDecision {
  solver::Decision function;
  std::vector<dsl::NodeId> conditions = {};               ///< by condition: the node that computes it
  std::map<solver::Valuation, std::size_t> goal_of = {};  ///< index into DrillStudy::goals
  std::set<solver::Valuation> seen = {};                  ///< that the list goes through
  solver::McdcSet set = {};
};

/// `nodes`: what the decision's conditions are computed by, in their order. Conditions that are the same, or
/// one the opposite of another, are one. Fills in words and conditions of `told`. Nothing where there are
/// more than most_mcdc_conditions.
[[nodiscard]] std::optional<OpenDecision> open_decision(const dsl::Circuit& circuit,
                                                        const dsl::DrillDecision& decision,
                                                        const std::vector<dsl::NodeId>& nodes,
                                                        const dsl::Sources& sources, DrilledDecision& told);

/// Which valuation a moment of a run is.
[[nodiscard]] solver::Valuation valuation_in(const OpenDecision& decision,
                                             const solver::Trace::Moment& moment);

/// "thrust <= -97 % and not live": the valuation in words.
[[nodiscard]] std::string valuation_words(const DrilledDecision& decision, solver::Valuation valuation);

}  // namespace detent::cli
