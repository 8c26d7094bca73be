// Claims that have a time first; then the small changes, then what every element should go through, then what
// decisions need: so each finds much of its own done already. With the changes last, the lists of the designs
// in specs/ had a third to a fifth more movements (pump_jet 40 for 30, camera_winch 42 for 28, weapon 47 for
// 40).
//
// Which valuations a decision needs is settled in rounds: a smallest set is chosen among those that are not
// known to be out of reach, where those that the list goes through already cost nothing; what is chosen is
// put to the engine, what no run reaches is crossed out, and the choice is made anew.
#include "cli/drill_study.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <numeric>
#include <utility>

#include "cli/drill_changes.hpp"
#include "cli/drill_decisions.hpp"
#include "cli/drill_prune.hpp"
#include "cli/drill_rounds.hpp"
#include "solver/forever.hpp"
#include "solver/interpreter.hpp"

namespace detent::cli {
namespace {

using dsl::NodeId;

class Study {
 public:
  Study(const dsl::Compiled& compiled, const DrillWishes& wishes, solver::CaseOptions options,
        const StudyProgress& progress)
      : compiled_(compiled),
        wishes_(wishes),
        options_(std::move(options)),
        progress_(progress),
        limits_(std::nullopt, options_.memory_mib, options_.cancel),
        cases_(options_, progress_, cost_) {
    options_.wants_runs = false;
    prepare();
  }

  DrillStudy run() {
    DrillRounds rounds(study_, limits_);
    add_claims();
    add_points();
    if (study_.goals.empty()) add_goal({.words = "power-up", .node = study_.model.circuit.truth(true)});
    classify();
    if (study_.no_run_of) return std::move(study_);
    for (const auto& [name, run] : wishes_.runs) rounds.add({.run = run, .origin = name});
    go_for(rounds, [](const DrillGoal& goal) { return goal.within.has_value(); });
    if (wishes_.changes && !is_stopped(rounds)) {
      drill_changes(study_, rounds, compiled_, cases_, options_, progress_);
    }
    go_for(rounds, [](const DrillGoal& goal) { return !goal.within; });
    go_for_decisions(rounds);
    see_valuations();
    static_cast<void>(choose_valuations());
    prune(study_, open_, compiled_);
    tell_decisions();
    study_.stopped = is_stopped(rounds);
    return std::move(study_);
  }

 private:
  [[nodiscard]] bool is_stopped(const DrillRounds& rounds) const {
    return rounds.stopped() || options_.cancel.requested();
  }

  // ---- what there is to do ----
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

  std::size_t add_goal(DrillGoal goal) {
    const auto [same, is_new] = goal_at_.emplace(std::pair(goal.node, goal.within), study_.goals.size());
    if (is_new) study_.goals.push_back(std::move(goal));
    return same->second;
  }

  void add_claims() {
    for (std::size_t index = 0; index < own_claims_; ++index) {
      const dsl::Claim& claim = study_.model.claims[index];
      if (!claim.possible) continue;
      add_goal({.kind = DrillGoal::Kind::claim,
                .words = fmt::format("what the claim {} says", claim.name),
                .node = claim.watch,
                .within = claim.within});
    }
  }

  void add_points() {
    for (std::size_t index = 0; index < points_.size(); ++index) {
      add_goal({.kind = DrillGoal::Kind::point, .words = points_[index].words, .node = asked_node(index)});
    }
  }

  /// Asks the engine which goals from this one on no run reaches.
  void classify() {
    const std::size_t count = study_.goals.size() - classified_;
    const std::vector<solver::CaseAnswer> answers = cases_.ask(count, [&](std::size_t index) {
      const DrillGoal& goal = study_.goals[classified_ + index];
      solver::Case one{study_.model, {0}};
      dsl::Claim claim;
      claim.name = goal.words;
      claim.form = goal.within ? dsl::ClaimForm::possible_within : dsl::ClaimForm::possible;
      claim.possible = true;
      claim.watch = claim.first.node = goal.node;
      claim.within = goal.within;
      one.model.claims = {std::move(claim)};
      return one;
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

  // ---- going there ----
  template <class Wanted>
  void go_for(DrillRounds& rounds, Wanted wanted) {
    const auto open = [&] {
      std::vector<std::size_t> goals;
      for (std::size_t index = 0; index < study_.goals.size(); ++index) {
        const bool is_open = study_.goals[index].fate == GoalFate::undecided && !given_up_[index];
        if (is_open && wanted(study_.goals[index])) goals.push_back(index);
      }
      return goals;
    };
    given_up_.resize(study_.goals.size(), false);
    std::vector<std::size_t> goals = open();
    const std::size_t all = goals.size();
    while (!goals.empty() && !is_stopped(rounds)) {
      if (progress_) progress_(all - goals.size(), all);
      // Goals with a time of their own are asked one by one: they have no time in common.
      if (study_.goals[goals.front()].within) goals.resize(1);
      if (!rounds.go_to(goals)) go_anyhow(rounds, goals.front());
      goals = open();
    }
  }

  /// Where no hand gets to within the moments that are looked at: any run that does, as a round of its own.
  void go_anyhow(DrillRounds& rounds, std::size_t goal) {
    given_up_[goal] = true;
    if (is_stopped(rounds)) return;
    dsl::Model model = study_.model;
    dsl::Claim claim;
    claim.name = study_.goals[goal].words;
    claim.form = dsl::ClaimForm::possible;
    claim.possible = true;
    claim.watch = claim.first.node = study_.goals[goal].node;
    model.claims = {std::move(claim)};
    const solver::Report report = solver::check_forever(model, {.timeout = options_.timeout,
                                                                .memory_mib = options_.memory_mib,
                                                                .cancel = options_.cancel,
                                                                .side_findings = false});
    if (!report.verdicts.empty() && report.verdicts.front().run) {
      rounds.add({.run = *report.verdicts.front().run, .origin = "", .by_hand = false});
    }
  }

  // ---- decisions ----
  void go_for_decisions(DrillRounds& rounds) {
    open_decisions();
    while (!is_stopped(rounds)) {
      see_valuations();
      const std::vector<std::size_t> goals = choose_valuations();
      if (classified_ < study_.goals.size()) {
        static_cast<void>(study_.model.circuit.finish());
        given_up_.resize(study_.goals.size(), false);
        classify();
        continue;
      }
      if (goals.empty()) return;
      if (progress_) progress_(study_.goals.size() - goals.size(), study_.goals.size());
      if (!rounds.go_to(goals)) go_anyhow(rounds, goals.front());
    }
  }

  /// Which valuations the list goes through already.
  void see_valuations() {
    for (OpenDecision& decision : open_) decision.seen.clear();
    for (const DrillRound& round : study_.rounds) {
      const solver::Trace trace = solver::replay(study_.model.circuit, round.run);
      for (const solver::Trace::Moment& moment : trace.moments()) {
        for (OpenDecision& decision : open_) {
          decision.seen.insert(valuation_in(decision, moment));
        }
      }
    }
  }

  /// The goals that the list still has to meet for the decisions' sets.
  std::vector<std::size_t> choose_valuations() {
    std::vector<std::size_t> goals;
    for (std::size_t index = 0; index < open_.size(); ++index) {
      OpenDecision& decision = open_[index];
      if (decision.conditions.empty()) continue;
      decision.set =
          solver::smallest_mcdc_set(decision.function, wishes_.variant,
                                    [&](solver::Valuation valuation) { return cost(decision, valuation); });
      for (const solver::Valuation valuation : decision.set.valuations) {
        if (!decision.seen.contains(valuation)) goals.push_back(goal_for(index, valuation));
      }
    }
    std::sort(goals.begin(), goals.end());
    goals.erase(std::unique(goals.begin(), goals.end()), goals.end());
    return goals;
  }

  void open_decisions() {
    std::size_t next = points_.size();
    for (const dsl::DrillDecision& decision : decided_) {
      std::vector<NodeId> nodes;
      for (std::size_t index = 0; index < decision.conditions.size(); ++index)
        nodes.push_back(asked_node(next++));
      DrilledDecision told;
      told.element = compiled_.design->elements[decision.element].name;
      auto open = open_decision(study_.model.circuit, decision, nodes, compiled_.sources, told);
      if (open && open->conditions.empty()) continue;
      const bool known =
          open && std::any_of(open_.begin(), open_.end(), [&](const OpenDecision& one) {
            return one.conditions == open->conditions && one.function.outcome == open->function.outcome;
          });
      if (known) continue;
      if (!open) {
        open.emplace();
        told.undecided.resize(told.conditions.size());
        std::iota(told.undecided.begin(), told.undecided.end(), 0U);
      }
      open_.push_back(std::move(*open));
      study_.decisions.push_back(std::move(told));
    }
  }

  [[nodiscard]] NodeId valuation_node(const OpenDecision& decision, solver::Valuation valuation) {
    dsl::Circuit& circuit = study_.model.circuit;
    NodeId node = circuit.truth(true);
    for (std::size_t index = 0; index < decision.conditions.size(); ++index) {
      const NodeId condition = decision.conditions[index];
      node = circuit.and_(node, (valuation >> index & 1U) != 0 ? condition : circuit.not_(condition));
    }
    return node;
  }

  /// What a valuation costs a decision now.
  [[nodiscard]] std::optional<unsigned> cost(const OpenDecision& decision,
                                             solver::Valuation valuation) const {
    if (decision.seen.contains(valuation)) return 0;
    const auto found = decision.goal_of.find(valuation);
    if (found == decision.goal_of.end()) return 1;
    const bool never = study_.goals[found->second].fate == GoalFate::never;
    return never || given_up_[found->second] ? std::nullopt : std::optional<unsigned>(1);
  }

  std::size_t goal_for(std::size_t index, solver::Valuation valuation) {
    OpenDecision& decision = open_[index];
    const auto found = decision.goal_of.find(valuation);
    if (found != decision.goal_of.end()) return found->second;
    const DrilledDecision& told = study_.decisions[index];
    const std::size_t goal =
        add_goal({.kind = DrillGoal::Kind::decision,
                  .words = fmt::format("{}: {}", told.element, valuation_words(told, valuation)),
                  .node = valuation_node(decision, valuation)});
    decision.goal_of[valuation] = goal;
    return goal;
  }

  void tell_decisions() {
    for (std::size_t index = 0; index < open_.size(); ++index) {
      const OpenDecision& decision = open_[index];
      DrilledDecision& told = study_.decisions[index];
      if (decision.conditions.empty()) continue;
      for (const solver::Valuation valuation : decision.set.valuations) {
        if (decision.seen.contains(valuation)) told.valuations.push_back(valuation);
      }
      told.smallest = decision.set.smallest;
      for (unsigned condition = 0; condition < decision.function.conditions; ++condition) {
        if (solver::shows_condition(decision.function, condition, told.valuations, wishes_.variant)) {
          told.shown.push_back(condition);
        } else {
          (is_out_of_reach(decision, condition) ? told.never : told.undecided).push_back(condition);
        }
      }
    }
  }

  /// Every pair that would show it has a valuation that no run reaches.
  [[nodiscard]] bool is_out_of_reach(const OpenDecision& decision, unsigned condition) const {
    const solver::McdcSet possible =
        solver::smallest_mcdc_set(decision.function, wishes_.variant, [&](solver::Valuation valuation) {
          const auto found = decision.goal_of.find(valuation);
          const bool never =
              found != decision.goal_of.end() && study_.goals[found->second].fate == GoalFate::never;
          return never ? std::nullopt : std::optional<unsigned>(0);
        });
    const auto& not_shown = possible.not_shown;
    return std::find(not_shown.begin(), not_shown.end(), condition) != not_shown.end();
  }

  const dsl::Compiled& compiled_;
  const DrillWishes& wishes_;
  solver::CaseOptions options_;
  const StudyProgress& progress_;
  solver::Limits limits_;
  solver::CasesReport cost_;
  CaseRunner cases_;
  DrillStudy study_;
  std::vector<dsl::DrillPoint> points_;
  std::vector<dsl::DrillDecision> decided_;
  std::vector<OpenDecision> open_;
  std::size_t own_claims_ = 0;
  std::size_t classified_ = 0;
  std::vector<bool> given_up_;  ///< by goal
  std::map<std::pair<NodeId, decltype(DrillGoal::within)>, std::size_t>
      goal_at_;  ///< what is asked, to its goal
};

}  // namespace

DrillStudy study_drill(const dsl::Compiled& compiled, const DrillWishes& wishes, solver::CaseOptions options,
                       const StudyProgress& progress) {
  options.wants_runs = false;
  return Study(compiled, wishes, std::move(options), progress).run();
}

}  // namespace detent::cli
