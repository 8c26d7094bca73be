// Design to model: elements, then assumptions and claims, then what can be said of the result without a
// solver.
#include "dsl/lower.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <utility>

#include "dsl/limits.hpp"
#include "dsl/lower_claims.hpp"
#include "dsl/lower_elements.hpp"
#include "dsl/lower_terms.hpp"

namespace detent::dsl {
namespace {

bool is_input(const Element& element) {
  return std::holds_alternative<ChannelBody>(element.body) ||
         std::holds_alternative<SwitchBody>(element.body) ||
         std::holds_alternative<ButtonBody>(element.body) || std::holds_alternative<LinkBody>(element.body);
}

Sort sort_of(const Design& design, const Element& element) {
  Sort sort{.kind = element.type.kind, .unit = element.type.unit, .decimals = element.type.decimals};
  if (element.type.kind == SortKind::position) {
    sort.positions = design.elements[element.type.owner].positions;
  } else if (std::holds_alternative<ButtonBody>(element.body)) {
    sort.positions = {"released", "pressed"};
  } else if (std::holds_alternative<LinkBody>(element.body)) {
    sort.positions = {"there", "lost"};
  } else if (element.type.kind == SortKind::condition) {
    sort.positions = {"off", "on"};
  }
  return sort;
}

void add_power_up_choice(const Design& design, TermBuilder& terms, Model& model) {
  if (design.edges != EdgeRule::either) {
    return;
  }
  terms.edge_choice = model.circuit.input({.name = "edges at power-up", .condition = true});
  model.power_up_choice = 0;
  model.signals.push_back({.name = "edges at power-up",
                           .doc = "whether what is already true at power-up counts as an edge",
                           .element = "power_up",
                           .place = {},
                           .role = SignalRole::hand,
                           .sort = {.positions = {"ignored", "counted"}},
                           .node = terms.edge_choice,
                           .input = 0});
}

/// Indices of each element's signal, as the design sees it.
std::vector<std::uint32_t> add_signals(const Design& design, const TermBuilder& terms, Model& model) {
  std::vector<std::uint32_t> index_of;
  for (std::size_t index = 0; index < design.elements.size(); ++index) {
    const Element& element = design.elements[index];
    const auto& meaning = terms.meanings[index];
    if (element.hidden) {
      index_of.push_back(no_signal);
      continue;
    }
    Signal signal{.name = element.name,
                  .doc = element.doc,
                  .element = element.keyword,
                  .place = element.place,
                  .role = element.output ? SignalRole::output : SignalRole::element,
                  .sort = sort_of(design, element),
                  .node = meaning.node};
    if (is_input(element)) {
      signal.role = SignalRole::hand;
      signal.node = meaning.hand;
      signal.input = static_cast<std::uint32_t>(model.circuit.node(meaning.hand).number);
    }
    model.signals.push_back(signal);
    if (element.carriage) {
      signal.name += " received";
      signal.role = SignalRole::element;
      signal.node = meaning.node;
      model.signals.push_back(signal);
    }
    index_of.push_back(static_cast<std::uint32_t>(model.signals.size() - 1));
  }
  return index_of;
}

void report_unbounded(const Design& design, const TermBuilder& terms, const std::vector<NodeId>& unbounded,
                      const Model& model, Diagnostics& diagnostics) {
  const std::set<NodeId> nodes(unbounded.begin(), unbounded.end());
  const std::size_t before = diagnostics.size();
  for (const std::size_t index : design.order) {
    if (nodes.count(terms.meanings[index].node) != 0) {
      diagnostics.push_back(
          {.code = Code::unbounded_value,
           .place = design.elements[index].place,
           .message = fmt::format("'{}' can grow past every limit", design.elements[index].name),
           .mend = "hold it between two numbers: min(max(…, LOWEST), HIGHEST)"});
    }
  }
  if (!nodes.empty() && diagnostics.size() == before) {
    const Place place = model.claims.empty() ? Place{} : model.claims.front().place;
    diagnostics.push_back({.code = Code::unbounded_value,
                           .place = place,
                           .message = fmt::format("a number in this design can grow past {}", largest_level),
                           .mend = "use smaller numbers, or hold it between two with min and max"});
  }
}

// A level that stays what it is may be a named constant; a condition or a stage that does is a mistake.
void warn_of_constants(const Design& design, const TermBuilder& terms, const Circuit& circuit,
                       Diagnostics& diagnostics) {
  for (std::size_t index = 0; index < design.elements.size(); ++index) {
    const Element& element = design.elements[index];
    const NodeId node = terms.meanings[index].node;
    if (element.hidden || element.type.kind == SortKind::level || !circuit.is_constant(node)) {
      continue;
    }
    const Sort sort = sort_of(design, element);
    diagnostics.push_back({.code = Code::never_changes,
                           .place = element.place,
                           .message = fmt::format("'{}' never changes: it is always {}", element.name,
                                                  to_text(circuit.node(node).number, sort)),
                           .mend = "check what it is made of, or leave it out"});
  }
}

}  // namespace

Model lower(const Design& design, const Sources& sources, Diagnostics& diagnostics) {
  Model model;
  model.title = design.title;
  model.tick_us = design.tick_us;
  model.longest_time = design.longest_time;
  TermBuilder terms(design, model.circuit);
  add_power_up_choice(design, terms, model);
  lower_elements(design, sources, terms, model);
  const std::vector<std::uint32_t> signals = add_signals(design, terms, model);
  lower_claims(design, sources, signals, terms, model, diagnostics);
  terms.connect_loops();
  report_unbounded(design, terms, model.circuit.finish(), model, diagnostics);
  warn_of_constants(design, terms, model.circuit, diagnostics);
  return model;
}

}  // namespace detent::dsl
