#include "cli/drill_valuations.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>
#include <utility>

#include "solver/interpreter.hpp"

namespace detent::cli {

using dsl::NodeId;
using solver::Valuation;

void DrillValuations::add(const dsl::DrillDecision& decision, const std::vector<NodeId>& nodes,
                          const dsl::Compiled& compiled) {
  DrilledDecision told;
  told.element = compiled.design->elements[decision.element].name;
  auto open = open_decision(study_.model.circuit, decision, nodes, compiled.sources, told);
  if (open && open->conditions.empty()) return;
  const bool known =
      open && std::any_of(open_.begin(), open_.end(), [&](const OpenDecision& one) {
        return one.conditions == open->conditions && one.function.outcome == open->function.outcome;
      });
  if (known) return;
  if (!open) {
    open.emplace();
    told.undecided.resize(told.conditions.size());
    std::iota(told.undecided.begin(), told.undecided.end(), 0U);
  }
  open_.push_back(std::move(*open));
  study_.decisions.push_back(std::move(told));
}

void DrillValuations::see() {
  for (OpenDecision& decision : open_) decision.seen.clear();
  for (const DrillRound& round : study_.rounds) {
    const solver::Trace trace = solver::replay(study_.model.circuit, round.run);
    for (const solver::Trace::Moment& moment : trace.moments()) {
      for (OpenDecision& decision : open_) decision.seen.insert(valuation_in(decision, moment));
    }
  }
}

std::vector<std::size_t> DrillValuations::choose() {
  const std::size_t known = study_.goals.size();
  std::vector<std::size_t> goals;
  for (std::size_t index = 0; index < open_.size(); ++index) {
    OpenDecision& decision = open_[index];
    if (decision.conditions.empty()) continue;
    decision.set = solver::smallest_mcdc_set(decision.function, variant_,
                                             [&](Valuation valuation) { return cost(decision, valuation); });
    for (const Valuation valuation : decision.set.valuations) {
      if (!decision.seen.contains(valuation)) goals.push_back(goal_for(index, valuation));
    }
  }
  if (study_.goals.size() > known) static_cast<void>(study_.model.circuit.finish());
  std::sort(goals.begin(), goals.end());
  goals.erase(std::unique(goals.begin(), goals.end()), goals.end());
  return goals;
}

NodeId DrillValuations::node_of(const OpenDecision& decision, Valuation valuation) {
  dsl::Circuit& circuit = study_.model.circuit;
  NodeId node = circuit.truth(true);
  for (std::size_t index = 0; index < decision.conditions.size(); ++index) {
    const NodeId condition = decision.conditions[index];
    node = circuit.and_(node, (valuation >> index & 1U) != 0 ? condition : circuit.not_(condition));
  }
  return node;
}

/// What a valuation costs a decision now.
std::optional<unsigned> DrillValuations::cost(const OpenDecision& decision, Valuation valuation) const {
  if (decision.seen.contains(valuation)) return 0;
  const auto found = decision.goal_of.find(valuation);
  if (found == decision.goal_of.end()) return 1;
  const bool hopeless = goals_.is_never(found->second) || goals_.is_given_up(found->second);
  return hopeless ? std::nullopt : std::optional<unsigned>(1);
}

std::size_t DrillValuations::goal_for(std::size_t index, Valuation valuation) {
  OpenDecision& decision = open_[index];
  const auto found = decision.goal_of.find(valuation);
  if (found != decision.goal_of.end()) return found->second;
  const DrilledDecision& told = study_.decisions[index];
  const std::size_t goal =
      goals_.add({.kind = DrillGoal::Kind::decision,
                  .words = fmt::format("{}: {}", told.element, valuation_words(told, valuation)),
                  .node = node_of(decision, valuation)});
  decision.goal_of[valuation] = goal;
  return goal;
}

void DrillValuations::tell() {
  for (std::size_t index = 0; index < open_.size(); ++index) {
    const OpenDecision& decision = open_[index];
    DrilledDecision& told = study_.decisions[index];
    if (decision.conditions.empty()) continue;
    for (const Valuation valuation : decision.set.valuations) {
      if (decision.seen.contains(valuation)) told.valuations.push_back(valuation);
    }
    told.smallest = decision.set.smallest;
    for (unsigned condition = 0; condition < decision.function.conditions; ++condition) {
      if (solver::shows_condition(decision.function, condition, told.valuations, variant_)) {
        told.shown.push_back(condition);
      } else {
        (is_out_of_reach(decision, condition) ? told.never : told.undecided).push_back(condition);
      }
    }
  }
}

/// Every pair that would show it has a valuation that no run reaches.
bool DrillValuations::is_out_of_reach(const OpenDecision& decision, unsigned condition) const {
  const solver::McdcSet possible =
      solver::smallest_mcdc_set(decision.function, variant_, [&](Valuation valuation) {
        const auto found = decision.goal_of.find(valuation);
        const bool never = found != decision.goal_of.end() && goals_.is_never(found->second);
        return never ? std::nullopt : std::optional<unsigned>(0);
      });
  const auto& not_shown = possible.not_shown;
  return std::find(not_shown.begin(), not_shown.end(), condition) != not_shown.end();
}

}  // namespace detent::cli
