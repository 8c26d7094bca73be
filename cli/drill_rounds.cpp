// The nearest goal first: one question to the solver for all that is open, so that what it finds is the
// shortest way on to any of it. What else is met on the way is crossed off.
#include "cli/drill_rounds.hpp"

#include <algorithm>
#include <utility>

#include "cli/drill_timing.hpp"
#include "solver/interpreter.hpp"

namespace detent::cli {
namespace {

using dsl::NodeId;
using solver::Run;

/// Hours at the bench; nobody wants longer rounds.
constexpr std::int64_t longest_round_us = 3'600'000'000;

solver::OnwardLimits far_enough(const dsl::Model& model) {
  return {.steps = 14, .ticks = std::max<Value>(longest_round_us / model.tick_us, 1000), .patience_ms = 4000};
}

/// The first tick from `from` on in which the node is true.
std::optional<Value> first_true(const solver::Trace& trace, std::size_t from, NodeId node) {
  for (const solver::Trace::Moment& moment : trace.moments()) {
    if (moment.values[node] != 0 && moment.tick >= from) return static_cast<Value>(moment.tick);
  }
  return {};
}

bool is_met(const DrillGoal& goal, std::optional<Value> tick) {
  return tick && (!goal.within || *tick <= *goal.within);
}

}  // namespace

std::optional<Value> met_in(const solver::Trace& trace, const DrillGoal& goal) {
  const std::optional<Value> tick = first_true(trace, 0, goal.node);
  return is_met(goal, tick) ? tick : std::nullopt;
}

Value pause_ticks(const dsl::Model& model) {
  return std::max<Value>((human_pause_us + model.tick_us - 1) / model.tick_us, 1);
}

DrillRounds::DrillRounds(DrillStudy& study, const solver::Limits& limits) : study_(study), limits_(limits) {
  by_.apart = pause_ticks(study.model);
  by_.hand = solver::hands_of(study.model);
  by_.steady.assign(study.model.circuit.inputs().size(), false);
  if (study.model.power_up_choice) {
    by_.steady[study.model.signals[*study.model.power_up_choice].input] = true;
  }
}

void DrillRounds::add(DrillRound round) {
  hold(round.run);
  study_.rounds.push_back(std::move(round));
  look(study_.rounds.size() - 1);
}

bool DrillRounds::go_to(const std::vector<std::size_t>& goals) {
  dsl::Model asked = study_.model;
  NodeId any = asked.circuit.truth(false);
  bool in_time = false;
  Value most = 0;
  for (const std::size_t goal : goals) {
    any = asked.circuit.or_(any, study_.goals[goal].node);
    in_time = study_.goals[goal].within.has_value();
    most = std::max(most, study_.goals[goal].within.value_or(0));
  }
  static_cast<void>(asked.circuit.finish());
  solver::OnwardLimits how_far = far_enough(asked);
  if (in_time) how_far.ticks = most + 1;
  return go(asked, any, how_far, goals);
}

bool DrillRounds::go_to(const dsl::Model& model, NodeId condition, const solver::OnwardLimits& how_far) {
  return go(model, condition, how_far, {});
}

bool DrillRounds::go(const dsl::Model& model, NodeId condition, const solver::OnwardLimits& how_far,
                     const std::vector<std::size_t>& goals) {
  const Good reaches = [&](const Run& run, std::size_t from) {
    return first_true(solver::replay(model.circuit, run), from, condition).has_value();
  };
  const Run nothing;
  const Run& so_far = study_.rounds.empty() ? nothing : study_.rounds.back().run;
  const bool fresh = so_far.inputs.empty();
  if (take(solver::go_onward(model, so_far, condition, by_, how_far, limits_), fresh, goals, reaches))
    return true;
  if (fresh || stopped_) return false;
  return take(solver::go_onward(model, {}, condition, by_, how_far, limits_), true, goals, reaches);
}

bool DrillRounds::take(solver::Onward onward, bool fresh, const std::vector<std::size_t>& goals,
                       const Good& good) {
  stopped_ = stopped_ || onward.kind == solver::Onward::Kind::stopped;
  if (onward.kind != solver::Onward::Kind::found) return false;
  const std::size_t from = fresh ? 0 : study_.rounds.back().run.ticks();
  plain(onward.run, from, goals);
  hold(onward.run);
  const std::vector<std::size_t> met = met_by(onward.run, from, goals);
  onward.run = eased(study_, onward.run, static_cast<Value>(from), [&](const Run& run) {
    if (!is_allowed(run)) return false;
    const std::vector<std::size_t> now = met_by(run, from, goals);
    return std::includes(now.begin(), now.end(), met.begin(), met.end()) && good(run, from);
  });
  if (fresh) {
    study_.rounds.push_back({.run = std::move(onward.run), .origin = ""});
  } else {
    study_.rounds.back().run = std::move(onward.run);
  }
  look(study_.rounds.size() - 1);
  return true;
}

void DrillRounds::look(std::size_t round) {
  const solver::Trace trace = solver::replay(study_.model.circuit, study_.rounds[round].run);
  for (DrillGoal& goal : study_.goals) {
    if (goal.fate == GoalFate::met) continue;
    const std::optional<Value> tick = met_in(trace, goal);
    if (!tick) continue;
    goal.fate = GoalFate::met;
    goal.round = round;
    goal.tick = *tick;
  }
}

/// What was brought about should last for long enough to be seen, where the assumptions let it.
void DrillRounds::hold(Run& run) const {
  Run longer = run;
  longer.inputs.extend_to(run.ticks() + static_cast<std::size_t>(by_.apart));
  if (is_allowed(longer)) run = std::move(longer);
}

std::vector<std::size_t> DrillRounds::met_by(const Run& run, std::size_t from,
                                             const std::vector<std::size_t>& goals) const {
  const solver::Trace trace = solver::replay(study_.model.circuit, run);
  std::vector<std::size_t> met;
  for (const std::size_t goal : goals) {
    if (is_met(study_.goals[goal], first_true(trace, from, study_.goals[goal].node))) met.push_back(goal);
  }
  return met;
}

/// Levels from `from` on go to their channels' ends, or to 0, where that meets all the same goals.
void DrillRounds::plain(Run& run, std::size_t from, const std::vector<std::size_t>& goals) const {
  if (goals.empty()) return;
  const std::vector<dsl::CircuitInput>& inputs = study_.model.circuit.inputs();
  const std::vector<std::size_t> met = met_by(run, from, goals);
  for (std::size_t input = 0; input < inputs.size(); ++input) {
    const auto is_slow = [&](const dsl::Constraint& one) {
      return one.rate && one.rate->hand == inputs[input].node;
    };
    const dsl::Range range = inputs[input].range;
    const auto& constraints = study_.model.constraints;
    if (inputs[input].condition || range.high - range.low < 4 ||
        std::any_of(constraints.begin(), constraints.end(), is_slow)) {
      continue;
    }
    for (std::size_t begin = from, end = from; begin < run.ticks(); begin = end) {
      const Value value = run.inputs[begin][input];
      for (end = begin; end < run.ticks() && run.inputs[end][input] == value;) {
        end = std::min(run.inputs.end_of(end), run.ticks());
      }
      const bool moved = begin > 0 && run.inputs[begin - 1][input] != value;
      if (begin > 0 && !moved) continue;
      for (const Value candidate : {Value{0}, range.high, range.low}) {
        if (candidate == value) break;
        if (candidate < range.low || candidate > range.high ||
            (candidate - range.low) % inputs[input].step != 0) {
          continue;
        }
        Run changed = run;
        changed.inputs.set(begin, end, input, candidate);
        if (!is_allowed(changed)) continue;
        const std::vector<std::size_t> now = met_by(changed, from, goals);
        if (std::includes(now.begin(), now.end(), met.begin(), met.end())) {
          run = std::move(changed);
          break;
        }
      }
    }
  }
}

bool DrillRounds::is_allowed(const Run& run) const {
  const solver::Trace trace = solver::replay(study_.model.circuit, run);
  const auto keeps = [&](const solver::Trace::Moment& moment) {
    return std::all_of(study_.model.constraints.begin(), study_.model.constraints.end(),
                       [&](const dsl::Constraint& one) { return moment.values[one.node] != 0; });
  };
  return std::all_of(trace.moments().begin(), trace.moments().end(), keeps);
}

}  // namespace detent::cli
