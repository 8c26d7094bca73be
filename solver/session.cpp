// Constraints are left out until a run breaks one; from then on that constraint is a fact at every tick (the
// abstraction and refinement of Clarke, Grumberg, Jha, Lu, Veith, CAV 2000, taken over constraints). Most
// claims need none of them, and one that speaks of sticks that move slowly is dear.
//
// A constraint holds at the ticks of a run and says nothing of the time after it. So a question at tick t has
// it at the ticks up to t only: a run that breaks a claim and then cannot go on is still found.
#include "solver/session.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "solver/interpreter.hpp"

namespace detent::solver {
namespace {

std::vector<NodeId> with_constraints(const Setting& setting, std::vector<NodeId> conditions) {
  conditions.insert(conditions.end(), setting.constraints.begin(), setting.constraints.end());
  return conditions;
}

}  // namespace

Session::Session(const Setting& setting, const std::vector<NodeId>& conditions, const Limits& limits,
                 Statistics& statistics)
    : setting_(&setting),
      limits_(&limits),
      statistics_(&statistics),
      encoding_(*setting.circuit, with_constraints(setting, conditions)),
      solver_(encoding_.gates()),
      demanded_(setting.constraints.size(), false),
      watchman_(limits, [this] { solver_.interrupt(); }) {}

Literal Session::constraint(std::size_t index, std::size_t tick) const {
  return encoding_.condition(setting_->constraints[index], tick);
}

void Session::add_tick() {
  encoding_.add_tick();
  for (std::size_t index = 0; index < demanded_.size(); ++index) {
    if (demanded_[index]) solver_.require(constraint(index, last_tick()));
  }
  statistics_->unrolled_ticks = std::max(statistics_->unrolled_ticks, static_cast<Value>(encoding_.ticks()));
}

void Session::require_absent(NodeId node) {
  solver_.require(!encoding_.condition(node, last_tick()));
}

Finding Session::ask(NodeId node, std::optional<unsigned> effort) {
  const Literal wish = encoding_.condition(node, last_tick());
  if (wish == always_false) return Finding::absent;
  for (;;) {
    const Answer answer = ask_solver(wish, effort);
    if (answer == Answer::yes) {
      try {
        if (accept_run(node)) return Finding::found;
      } catch (const InternalDisagreement&) {
        // Told to stop just then, Z3 may give what is no run (solver/reach.cpp).
        why_stopped_ = limit_reached();
        if (why_stopped_ == Limit::none) throw;
        return Finding::stopped;
      }
      continue;
    }
    if (answer == Answer::no) return Finding::absent;
    return answer == Answer::too_hard ? Finding::too_hard : Finding::stopped;
  }
}

Answer Session::ask_for_any_run(std::size_t ticks) {
  Literal all = always_true;
  for (std::size_t tick = 0; tick < ticks; ++tick) {
    for (std::size_t index = 0; index < demanded_.size(); ++index) {
      all = encoding_.gates().both(constraint(index, tick), all);
    }
  }
  return ask_solver(all, {});
}

Answer Session::ask_solver(Literal wish, std::optional<unsigned> effort) {
  why_stopped_ = limit_reached();
  if (why_stopped_ != Limit::none) return Answer::unknown;
  ++statistics_->solver_calls;
  const Answer answer = solver_.ask(wish, effort);
  if (answer == Answer::out_of_memory) why_stopped_ = Limit::memory;
  if (answer == Answer::unknown) {
    why_stopped_ = limit_reached();
    if (why_stopped_ == Limit::none) why_stopped_ = Limit::solver_gave_up;
  }
  return answer;
}

/// Holds the run that Z3 has found against the interpreter. False: it breaks constraints that were left out
/// so far and are now demanded.
bool Session::accept_run(NodeId node) {
  run_ = encoding_.run(solver_.values(), encoding_.ticks());
  const Trace trace = replay(*setting_->circuit, run_);
  ++statistics_->replayed_runs;
  if (const auto difference = encoding_.disagreement(trace, solver_.values(), solver_.known())) {
    throw InternalDisagreement{*difference};
  }
  if (trace.at(last_tick(), node) == 0) {
    throw InternalDisagreement{fmt::format("node {} is not true at the end of the run found for it", node)};
  }
  bool accepted = true;
  for (std::size_t index = 0; index < demanded_.size(); ++index) {
    if (!is_broken(trace, index)) continue;
    demand(index);
    accepted = false;
  }
  return accepted;
}

bool Session::is_broken(const Trace& trace, std::size_t index) const {
  const NodeId node = setting_->constraints[index];
  return std::any_of(trace.moments().begin(), trace.moments().end(),
                     [node](const Trace::Moment& moment) { return moment.values[node] == 0; });
}

void Session::demand(std::size_t index) {
  if (demanded_[index]) {
    throw InternalDisagreement{fmt::format("constraint {} does not hold in a run found under it", index)};
  }
  demanded_[index] = true;
  for (std::size_t tick = 0; tick < encoding_.ticks(); ++tick) solver_.require(constraint(index, tick));
}

}  // namespace detent::solver
