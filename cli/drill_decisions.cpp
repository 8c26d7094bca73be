#include "cli/drill_decisions.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace detent::cli {
namespace {

/// Which condition an occurrence stands for, and whether it is its opposite; or a constant.
struct Occurrence {
  std::size_t condition = 0;
  bool turned = false;
  std::optional<bool> constant = {};
};

bool are_opposites(const dsl::Circuit& circuit, dsl::NodeId one, dsl::NodeId other) {
  const auto turns = [&](dsl::NodeId a, dsl::NodeId b) {
    return circuit.node(a).kind == dsl::NodeKind::not_ && circuit.node(a).a == b;
  };
  return turns(one, other) || turns(other, one);
}

Occurrence place(const dsl::Circuit& circuit, dsl::NodeId node, std::vector<dsl::NodeId>& conditions) {
  if (circuit.is_constant(node)) return {.constant = circuit.node(node).number != 0};
  for (std::size_t index = 0; index < conditions.size(); ++index) {
    if (conditions[index] == node) return {.condition = index};
    if (are_opposites(circuit, conditions[index], node)) return {.condition = index, .turned = true};
  }
  conditions.push_back(node);
  return {.condition = conditions.size() - 1};
}

}  // namespace

std::optional<OpenDecision> open_decision(const dsl::Circuit& circuit, const dsl::DrillDecision& decision,
                                          const std::vector<dsl::NodeId>& nodes, const dsl::Sources& sources,
                                          DrilledDecision& told) {
  OpenDecision open;
  std::vector<Occurrence> occurrences;
  told.text = decision.text;
  told.place = decision.whole->place;
  for (std::size_t index = 0; index < nodes.size(); ++index) {
    occurrences.push_back(place(circuit, nodes[index], open.conditions));
    if (open.conditions.size() > told.conditions.size()) {
      told.conditions.push_back(dsl::written(*decision.conditions[index], sources));
    }
  }
  if (open.conditions.size() > solver::most_mcdc_conditions) return std::nullopt;
  open.function.conditions = static_cast<unsigned>(open.conditions.size());
  for (solver::Valuation valuation = 0; valuation < 1U << open.function.conditions; ++valuation) {
    std::vector<bool> values;
    for (const Occurrence& one : occurrences) {
      const bool value = (valuation >> one.condition & 1U) != 0;
      values.push_back(one.constant ? *one.constant : value != one.turned);
    }
    open.function.outcome.push_back(dsl::decide(*decision.whole, values));
  }
  return open;
}

solver::Valuation valuation_in(const OpenDecision& decision, const solver::Trace::Moment& moment) {
  solver::Valuation valuation = 0;
  for (std::size_t index = 0; index < decision.conditions.size(); ++index) {
    if (moment.values[decision.conditions[index]] != 0) valuation |= 1U << index;
  }
  return valuation;
}

std::string valuation_words(const DrilledDecision& decision, solver::Valuation valuation) {
  std::string words;
  for (std::size_t index = 0; index < decision.conditions.size(); ++index) {
    words += fmt::format("{}'{}' {}", index == 0 ? "" : ", ", decision.conditions[index],
                         (valuation >> index & 1U) != 0 ? "true" : "false");
  }
  return words;
}

}  // namespace detent::cli
