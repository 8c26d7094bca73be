// Claims that have a time first; then the small changes, then what every element should go through, then what
// decisions need: so each finds much of its own done already. With the changes last, the lists of the designs
// in specs/ had a third to a fifth more movements (pump_jet 40 for 30, camera_winch 42 for 28, weapon 47 for
// 40).
#include "cli/drill_study.hpp"

#include <fmt/format.h>

#include <utility>

#include "cli/drill_changes.hpp"
#include "cli/drill_goals.hpp"
#include "cli/drill_prune.hpp"
#include "cli/drill_rounds.hpp"
#include "cli/drill_valuations.hpp"

namespace detent::cli {
namespace {

using dsl::NodeId;

class Study {
 public:
  Study(const dsl::Compiled& compiled, const DrillWishes& wishes, const solver::CaseOptions& options,
        const StudyProgress& progress)
      : compiled_(compiled),
        wishes_(wishes),
        options_(options),
        progress_(progress),
        limits_(std::nullopt, options.memory_mib, options.cancel),
        cases_(options, progress, cost_),
        goals_(study_, cases_, options, progress),
        valuations_(study_, goals_, wishes.variant) {
    prepare();
  }

  DrillStudy run() {
    DrillRounds rounds(study_, limits_);
    add_claims();
    add_points();
    if (study_.goals.empty()) goals_.add({.words = "power-up", .node = study_.model.circuit.truth(true)});
    goals_.classify_new();
    if (study_.no_run_of) return std::move(study_);
    for (const auto& [name, run] : wishes_.runs) rounds.add({.run = run, .origin = name});
    goals_.go_for(rounds, [](const DrillGoal& goal) { return goal.within.has_value(); });
    if (wishes_.changes && !goals_.is_stopped(rounds)) {
      drill_changes(study_, rounds, compiled_, cases_, options_, progress_);
    }
    goals_.go_for(rounds, [](const DrillGoal& goal) { return !goal.within; });
    go_for_decisions(rounds);
    valuations_.see();
    static_cast<void>(valuations_.choose());
    prune(study_, valuations_.decisions(), compiled_);
    valuations_.tell();
    study_.stopped = goals_.is_stopped(rounds);
    return std::move(study_);
  }

 private:
  void prepare() {
    points_ = dsl::drill_points(*compiled_.design, compiled_.sources);
    decided_ = dsl::drill_decisions(*compiled_.design, compiled_.sources);
    std::vector<dsl::Term> asked;
    for (const dsl::DrillPoint& point : points_) asked.push_back(point.when);
    for (const dsl::DrillDecision& decision : decided_) {
      for (const dsl::Term* condition : decision.conditions) asked.push_back(*condition);
    }
    study_.model = lowered(dsl::asking_for(*compiled_.design, asked), compiled_.sources);
    own_claims_ = study_.model.claims.size() - asked.size();
    show(dsl::SignalRole::output);
    if (wishes_.elements || study_.shown.empty()) show(dsl::SignalRole::element);
  }

  void show(dsl::SignalRole role) {
    for (std::uint32_t signal = 0; signal < study_.model.signals.size(); ++signal) {
      if (study_.model.signals[signal].role == role) study_.shown.push_back(signal);
    }
  }

  [[nodiscard]] NodeId asked_node(std::size_t index) const {
    return study_.model.claims[own_claims_ + index].watch;
  }

  void add_claims() {
    for (std::size_t index = 0; index < own_claims_; ++index) {
      const dsl::Claim& claim = study_.model.claims[index];
      if (!claim.possible) continue;
      goals_.add({.kind = DrillGoal::Kind::claim,
                  .words = fmt::format("what the claim {} says", claim.name),
                  .node = claim.watch,
                  .within = claim.within});
    }
  }

  void add_points() {
    for (std::size_t index = 0; index < points_.size(); ++index) {
      goals_.add({.kind = DrillGoal::Kind::point, .words = points_[index].words, .node = asked_node(index)});
    }
  }

  void add_decisions() {
    std::size_t next = points_.size();
    for (const dsl::DrillDecision& decision : decided_) {
      std::vector<NodeId> nodes;
      for (std::size_t index = 0; index < decision.conditions.size(); ++index)
        nodes.push_back(asked_node(next++));
      valuations_.add(decision, nodes, compiled_);
    }
  }

  void go_for_decisions(DrillRounds& rounds) {
    add_decisions();
    while (!goals_.is_stopped(rounds)) {
      valuations_.see();
      const std::vector<std::size_t> goals = valuations_.choose();
      if (goals_.has_new()) {
        goals_.classify_new();
        continue;
      }
      if (goals.empty()) return;
      if (progress_) progress_(study_.goals.size() - goals.size(), study_.goals.size());
      goals_.go_for_one(rounds, goals);
    }
  }

  const dsl::Compiled& compiled_;
  const DrillWishes& wishes_;
  const solver::CaseOptions& options_;
  const StudyProgress& progress_;
  solver::Limits limits_;
  solver::CasesReport cost_;
  CaseRunner cases_;
  DrillStudy study_;
  DrillGoals goals_;
  DrillValuations valuations_;
  std::vector<dsl::DrillPoint> points_;
  std::vector<dsl::DrillDecision> decided_;
  std::size_t own_claims_ = 0;
};

}  // namespace

DrillStudy study_drill(const dsl::Compiled& compiled, const DrillWishes& wishes, solver::CaseOptions options,
                       const StudyProgress& progress) {
  options.wants_runs = false;
  return Study(compiled, wishes, options, progress).run();
}

}  // namespace detent::cli
