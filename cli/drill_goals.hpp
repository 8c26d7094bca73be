// What a bench list should go through while it is made: which goals there are, which of them no run reaches,
// and how they are gone for. Private to the study.
#pragma once

#include <cstddef>
#include <functional>
#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "cli/drill_rounds.hpp"
#include "cli/drill_study.hpp"

namespace detent::cli {

class DrillGoals {
 public:
  /// All that is referred to must outlive it.
  DrillGoals(DrillStudy& study, CaseRunner& cases, const solver::CaseOptions& options,
             const StudyProgress& progress)
      : study_(study), cases_(cases), options_(options), progress_(progress) {}

  /// Index into DrillStudy::goals; of two that ask the same the first.
  std::size_t add(DrillGoal goal);
  [[nodiscard]] bool has_new() const { return classified_ < study_.goals.size(); }
  /// Asks the engine which of the new goals no run reaches.
  void classify_new();

  /// Goes for all open goals that are wanted, as far as they can be reached.
  void go_for(DrillRounds& rounds, const std::function<bool(const DrillGoal&)>& wanted);
  /// Goes for one of these goals, or gives the first one up.
  void go_for_one(DrillRounds& rounds, const std::vector<std::size_t>& goals);

  /// Proved out of reach.
  [[nodiscard]] bool is_never(std::size_t goal) const { return study_.goals[goal].fate == GoalFate::never; }
  /// Nothing more is tried for it.
  [[nodiscard]] bool is_given_up(std::size_t goal) const {
    return goal < given_up_.size() && given_up_[goal];
  }
  [[nodiscard]] bool is_stopped(const DrillRounds& rounds) const {
    return rounds.stopped() || options_.cancel.requested();
  }

 private:
  [[nodiscard]] dsl::Model asking_for(std::size_t goal) const;
  [[nodiscard]] std::vector<std::size_t> open(const std::function<bool(const DrillGoal&)>& wanted) const;
  void go_anyhow(DrillRounds& rounds, std::size_t goal);

  DrillStudy& study_;
  CaseRunner& cases_;
  const solver::CaseOptions& options_;
  const StudyProgress& progress_;
  std::size_t classified_ = 0;
  std::vector<bool> given_up_;  ///< by goal
  std::map<std::pair<dsl::NodeId, std::optional<Value>>, std::size_t>
      goal_at_;  ///< what is asked, to its goal
};

}  // namespace detent::cli
