// Which valuations of the decisions a bench list goes through while it is made, and which it still needs.
// Private to the study.
//
// It is settled in rounds: a smallest set is chosen among those that are not known to be out of reach, where
// those that the list goes through already cost nothing; what is chosen is put to the engine, what no run
// reaches is crossed out, and the choice is made anew.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "cli/drill_decisions.hpp"
#include "cli/drill_goals.hpp"

namespace detent::cli {

class DrillValuations {
 public:
  /// All that is referred to must outlive it.
  DrillValuations(DrillStudy& study, DrillGoals& goals, solver::Mcdc variant)
      : study_(study), goals_(goals), variant_(variant) {}

  /// One more decision, of which `nodes` compute the conditions; not where the same is there already.
  void add(const dsl::DrillDecision& decision, const std::vector<dsl::NodeId>& nodes,
           const dsl::Compiled& compiled);
  /// Which valuations the list goes through as it is.
  void see();
  /// The goals that the list still has to meet for the decisions' sets; some of them may be new.
  std::vector<std::size_t> choose();
  /// What came of it, into the study.
  void tell();

  [[nodiscard]] const std::vector<OpenDecision>& decisions() const { return open_; }

 private:
  [[nodiscard]] dsl::NodeId node_of(const OpenDecision& decision, solver::Valuation valuation);
  [[nodiscard]] std::optional<unsigned> cost(const OpenDecision& decision, solver::Valuation valuation) const;
  std::size_t goal_for(std::size_t index, solver::Valuation valuation);
  [[nodiscard]] bool is_out_of_reach(const OpenDecision& decision, unsigned condition) const;

  DrillStudy& study_;
  DrillGoals& goals_;
  solver::Mcdc variant_;
  std::vector<OpenDecision> open_;  ///< as DrillStudy::decisions
};

}  // namespace detent::cli
