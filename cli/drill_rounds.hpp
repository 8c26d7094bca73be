// The rounds of a bench list while it is made: runs that grow, and what they have met.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "cli/drill_study.hpp"
#include "solver/onward.hpp"

namespace detent::cli {

/// The first tick in which a round that is played so meets the goal.
[[nodiscard]] std::optional<Value> met_in(const solver::Trace& trace, const DrillGoal& goal);

class DrillRounds {
 public:
  DrillRounds(DrillStudy& study, const solver::Limits& limits);

  /// Adds a round that is given.
  void add(DrillRound round);
  /// Takes the last round on, or begins a new one, to where one of these goals of the study is met; false
  /// where no hand can do it in as many moments as are looked at.
  [[nodiscard]] bool go_to(const std::vector<std::size_t>& goals);
  /// The same for a condition of another model with the same inputs, of which `how_far` is looked at.
  [[nodiscard]] bool go_to(const dsl::Model& model, dsl::NodeId condition,
                           const solver::OnwardLimits& how_far);

  [[nodiscard]] bool stopped() const { return stopped_; }

 private:
  using Good = std::function<bool(const solver::Run&, std::size_t from)>;
  [[nodiscard]] bool go(const dsl::Model& model, dsl::NodeId condition, const solver::OnwardLimits& how_far,
                        const std::vector<std::size_t>& goals);
  bool take(solver::Onward onward, bool fresh, const std::vector<std::size_t>& goals, const Good& good);
  void look(std::size_t round);
  void hold(solver::Run& run) const;
  void plain(solver::Run& run, std::size_t from, const std::vector<std::size_t>& goals) const;
  [[nodiscard]] std::vector<std::size_t> met_by(const solver::Run& run, std::size_t from,
                                                const std::vector<std::size_t>& goals) const;
  [[nodiscard]] bool is_allowed(const solver::Run& run) const;

  DrillStudy& study_;
  const solver::Limits& limits_;
  solver::Operator by_;
  bool stopped_ = false;
};

}  // namespace detent::cli
