// The cone of influence of a node, and the choice of signals by it.
#include "cli/relevance.hpp"

#include <algorithm>
#include <string_view>

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::NodeId;
using solver::Trace;

constexpr std::string_view received = " received";

bool is_named(const std::vector<std::uint32_t>& names, std::uint32_t signal) {
  return std::find(names.begin(), names.end(), signal) != names.end();
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
  for (std::size_t tick = 0; tick < trace.ticks(); ++tick) {
    if (trace.at(tick, model.signals[*hand].node) != trace.at(tick, model.signals[signal].node))
      return signal;
  }
  return *hand;
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
  for (std::size_t tick = 1; tick < trace.ticks(); ++tick) {
    if (trace.at(tick, node) != trace.at(0, node)) return true;
  }
  return false;
}

std::vector<std::uint32_t> shown_signals(const Model& model, const Trace& trace, const dsl::Claim& claim,
                                         bool all) {
  const std::vector<bool> inside = cone(model.circuit, claim.watch);
  const std::vector<std::uint32_t> names = mentioned(model, trace, claim);
  std::vector<std::uint32_t> shown;
  for (std::uint32_t i = 0; i < model.signals.size(); ++i) {
    const bool moves = inside[model.signals[i].node] && changes(model, trace, i);
    const bool own = told_signal(model, trace, i) == i && !is_power_up_choice(model, i);
    if (all || is_named(names, i) || (moves && own)) shown.push_back(i);
  }
  return shown;
}

}  // namespace detent::cli
