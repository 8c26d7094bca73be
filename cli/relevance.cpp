// The cone of influence of a node, and the choice of signals by it.
#include "cli/relevance.hpp"

#include <algorithm>
#include <string_view>
#include <utility>

#include "solver/why.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::NodeId;
using dsl::Signal;
using dsl::SignalRole;
using dsl::Value;
using solver::Trace;

constexpr std::string_view received = " received";

bool is_named(const std::vector<std::uint32_t>& names, std::uint32_t signal) {
  return std::find(names.begin(), names.end(), signal) != names.end();
}

/// Whether the signal has another value at this moment (not the first) than at the one before.
bool changes_at(const Model& model, const Trace& trace, std::uint32_t signal, std::size_t moment) {
  const NodeId node = model.signals[signal].node;
  return trace.moments()[moment].values[node] != trace.moments()[moment - 1].values[node];
}

/// What the hands did in the run that was replayed.
solver::Run run_behind(const Model& model, const Trace& trace) {
  solver::Run run;
  for (const Trace::Moment& moment : trace.moments()) {
    solver::Rows::Row row;
    for (const dsl::CircuitInput& input : model.circuit.inputs()) row.push_back(moment.values[input.node]);
    run.inputs.extend_to(moment.tick);
    run.inputs.push_back(row);
  }
  run.inputs.extend_to(trace.ticks());
  return run;
}

}  // namespace

std::vector<bool> cone(const dsl::Circuit& circuit, NodeId root) {
  std::vector<bool> inside(circuit.nodes().size(), false);
  std::vector<NodeId> open;
  const auto visit = [&](NodeId node) {
    if (node == dsl::no_node || inside[node]) return;
    inside[node] = true;
    open.push_back(node);
  };
  visit(root);
  while (!open.empty()) {
    const dsl::Node& node = circuit.node(open.back());
    open.pop_back();
    visit(node.a);
    visit(node.b);
    visit(node.c);
  }
  return inside;
}

std::optional<std::uint32_t> hand_behind(const Model& model, std::uint32_t signal) {
  const std::string_view name = model.signals[signal].name;
  if (!name.ends_with(received)) return std::nullopt;
  const std::string_view wanted = name.substr(0, name.size() - received.size());
  for (std::uint32_t i = 0; i < model.signals.size(); ++i) {
    if (model.signals[i].role == dsl::SignalRole::hand && model.signals[i].name == wanted) return i;
  }
  return std::nullopt;
}

std::uint32_t told_signal(const Model& model, const Trace& trace, std::uint32_t signal) {
  const std::optional<std::uint32_t> hand = hand_behind(model, signal);
  if (!hand) return signal;
  const NodeId one = model.signals[*hand].node;
  const NodeId other = model.signals[signal].node;
  const bool alike = std::all_of(trace.moments().begin(), trace.moments().end(),
                                 [&](const Trace::Moment& at) { return at.values[one] == at.values[other]; });
  return alike ? *hand : signal;
}

std::vector<std::uint32_t> mentioned(const Model& model, const Trace& trace, const dsl::Claim& claim) {
  std::vector<std::uint32_t> names = claim.first.mentions;
  if (claim.second) names.insert(names.end(), claim.second->mentions.begin(), claim.second->mentions.end());
  for (std::uint32_t& name : names) name = told_signal(model, trace, name);
  std::sort(names.begin(), names.end());
  names.erase(std::unique(names.begin(), names.end()), names.end());
  return names;
}

bool is_power_up_choice(const Model& model, std::uint32_t signal) {
  return model.power_up_choice == signal;
}

bool changes(const Model& model, const Trace& trace, std::uint32_t signal) {
  const NodeId node = model.signals[signal].node;
  return std::any_of(trace.moments().begin(), trace.moments().end(),
                     [&](const Trace::Moment& moment) { return moment.values[node] != trace.at(0, node); });
}

bool is_at_rest(const Signal& signal, Value value) {
  return signal.role == SignalRole::hand && value == 0;
}

std::vector<bool> relevant_signals(const Model& model, const Trace& trace, NodeId root,
                                   const std::vector<std::uint32_t>& names) {
  std::vector<bool> relevant(model.signals.size(), false);
  for (const std::uint32_t name : names) relevant[told_signal(model, trace, name)] = true;
  for (const solver::Cause& cause : solver::causes_of(model, root, run_behind(model, trace)))
    relevant[told_signal(model, trace, cause.signal)] = true;
  return relevant;
}

void drop_inner_workings(const Model& model, const Trace& trace, const std::vector<std::uint32_t>& names,
                         std::vector<std::uint32_t>& signals) {
  const auto inner = std::stable_partition(signals.begin(), signals.end(), [&](std::uint32_t index) {
    return model.signals[index].name.find('.') == std::string::npos || is_named(names, index);
  });
  const std::vector<std::uint32_t> outer(signals.begin(), inner);
  const auto moves_alone = [&](std::uint32_t index) {
    for (std::size_t moment = 1; moment < trace.moments().size(); ++moment) {
      const auto moves = [&](std::uint32_t other) { return changes_at(model, trace, other, moment); };
      if (moves(index) && std::none_of(outer.begin(), outer.end(), moves)) return true;
    }
    return false;
  };
  signals.erase(std::remove_if(inner, signals.end(), moves_alone), signals.end());
}

void sort_for_telling(const Model& model, std::vector<std::uint32_t>& signals) {
  const auto place = [&model](std::uint32_t index) {
    const Signal& signal = model.signals[index];
    return signal.role == SignalRole::hand ? std::pair{0U, index} : std::pair{1U, signal.node};
  };
  std::stable_sort(signals.begin(), signals.end(),
                   [&](std::uint32_t one, std::uint32_t other) { return place(one) < place(other); });
}

std::vector<std::uint32_t> shown_signals(const Model& model, const Trace& trace, const dsl::Claim& claim,
                                         bool all) {
  const std::vector<bool> inside = cone(model.circuit, claim.watch);
  const std::vector<std::uint32_t> names = mentioned(model, trace, claim);
  const std::vector<bool> relevant = relevant_signals(model, trace, claim.watch, names);
  const auto is_shown = [&](std::uint32_t index) {
    const Signal& signal = model.signals[index];
    const bool hand = signal.role == SignalRole::hand;
    if (all || is_named(names, index)) return true;
    if (is_power_up_choice(model, index) || told_signal(model, trace, index) != index) return false;
    if (changes(model, trace, index)) return relevant[index] || (hand && inside[signal.node]);
    return relevant[index] && hand && !is_at_rest(signal, trace.at(0, signal.node));
  };
  std::vector<std::uint32_t> shown;
  for (std::uint32_t index = 0; index < model.signals.size(); ++index) {
    if (is_shown(index)) shown.push_back(index);
  }
  if (!all) drop_inner_workings(model, trace, names, shown);
  sort_for_telling(model, shown);
  return shown;
}

}  // namespace detent::cli
