#include "cli/drill_goals.hpp"

#include "solver/forever.hpp"

namespace detent::cli {

std::size_t DrillGoals::add(DrillGoal goal) {
  const auto [same, is_new] = goal_at_.emplace(std::pair(goal.node, goal.within), study_.goals.size());
  if (is_new) study_.goals.push_back(std::move(goal));
  return same->second;
}

/// The study's model with one claim alone: that the goal is possible.
dsl::Model DrillGoals::asking_for(std::size_t goal) const {
  const DrillGoal& wanted = study_.goals[goal];
  dsl::Model model = study_.model;
  dsl::Claim claim;
  claim.name = wanted.words;
  claim.form = wanted.within ? dsl::ClaimForm::possible_within : dsl::ClaimForm::possible;
  claim.possible = true;
  claim.watch = claim.first.node = wanted.node;
  claim.within = wanted.within;
  model.claims = {std::move(claim)};
  return model;
}

void DrillGoals::classify_new() {
  const std::size_t count = study_.goals.size() - classified_;
  const std::vector<solver::CaseAnswer> answers = cases_.ask(count, [&](std::size_t index) {
    return solver::Case{asking_for(classified_ + index), {0}};
  });
  for (std::size_t index = 0; index < count; ++index) {
    if (answers[index].no_run_of) study_.no_run_of = answers[index].no_run_of;
    const bool said = !answers[index].verdicts.empty();
    if (said && answers[index].verdicts.front().outcome == solver::Outcome::refuted) {
      study_.goals[classified_ + index].fate = GoalFate::never;
    }
  }
  classified_ = study_.goals.size();
}

std::vector<std::size_t> DrillGoals::open(const std::function<bool(const DrillGoal&)>& wanted) const {
  std::vector<std::size_t> goals;
  for (std::size_t index = 0; index < study_.goals.size(); ++index) {
    const bool is_open = study_.goals[index].fate == GoalFate::undecided && !is_given_up(index);
    if (is_open && wanted(study_.goals[index])) goals.push_back(index);
  }
  return goals;
}

void DrillGoals::go_for(DrillRounds& rounds, const std::function<bool(const DrillGoal&)>& wanted) {
  std::vector<std::size_t> goals = open(wanted);
  const std::size_t all = goals.size();
  while (!goals.empty() && !is_stopped(rounds)) {
    if (progress_) progress_(all - goals.size(), all);
    // Goals with a time of their own are asked one by one: they have no time in common.
    if (study_.goals[goals.front()].within) goals.resize(1);
    go_for_one(rounds, goals);
    goals = open(wanted);
  }
}

void DrillGoals::go_for_one(DrillRounds& rounds, const std::vector<std::size_t>& goals) {
  if (!rounds.go_to(goals)) go_anyhow(rounds, goals.front());
}

/// Where no hand gets to within the moments that are looked at: any run that does, as a round of its own.
void DrillGoals::go_anyhow(DrillRounds& rounds, std::size_t goal) {
  given_up_.resize(study_.goals.size(), false);
  given_up_[goal] = true;
  if (is_stopped(rounds)) return;
  dsl::Model model = asking_for(goal);
  model.claims.front().form = dsl::ClaimForm::possible;
  model.claims.front().within = std::nullopt;
  const solver::Report report = solver::check_forever(model, {.timeout = options_.timeout,
                                                              .memory_mib = options_.memory_mib,
                                                              .cancel = options_.cancel,
                                                              .side_findings = false});
  if (!report.verdicts.empty() && report.verdicts.front().run) {
    rounds.add({.run = *report.verdicts.front().run, .origin = "", .by_hand = false});
  }
}

}  // namespace detent::cli
