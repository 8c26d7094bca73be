// Graphviz, "The DOT Language": in a quoted string only \" is an escape of the language itself, but labels
// know more of them (\n, \N, …) and HTML's names of characters (&lt;), so backslashes and ampersands are
// written as themselves, too.
#include "cli/export/dot.hpp"

#include <fmt/format.h>

#include <limits>
#include <map>
#include <vector>

#include "cli/page.hpp"
#include "cli/report/dot_text.hpp"
#include "cli/report/picture.hpp"
#include "solver/slice.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Node;
using dsl::NodeId;
using dsl::NodeKind;

/// Each line is shown as it is, one below the other.
std::string quoted(const std::vector<std::string>& lines) {
  std::string out = "\"";
  for (std::size_t index = 0; index < lines.size(); ++index) {
    if (index > 0) out += "\\n";
    for (const char c : printable(lines[index], true)) {
      if (c == '"' || c == '\\') out += '\\';
      out += c;
      if (c == '&') out += "amp;";
    }
  }
  return out + '"';
}

/// A name is an ID and no label: nothing but quotes is escaped in it.
std::string id_of(const std::string& name) {
  return '"' + name + '"';
}

std::string title_of(const dsl::Compiled& compiled) {
  const std::string& title = compiled.model->title;
  return quoted({title.empty() ? compiled.sources.name(0) : title});
}

// ---- Elements ----

std::string node_attributes(const Model& model, const report::PictureNode& node) {
  const dsl::Signal& signal = model.signals[node.signal];
  std::string kind = node.kind;
  if (!node.detail.empty()) kind += "  " + node.detail;
  std::string text = "label=" + quoted({node.name, kind});
  if (!signal.doc.empty()) text += ", tooltip=" + quoted({signal.doc});
  if (node.role == dsl::SignalRole::hand) text += ", shape=oval";
  if (node.role == dsl::SignalRole::output) text += ", peripheries=2";
  return text;
}

// ---- Circuit ----

std::string operation(const Model& model, const Node& node) {
  switch (node.kind) {
    case NodeKind::constant:
      return node.condition ? (node.number != 0 ? "true" : "false") : fmt::format("{}", node.number);
    case NodeKind::input:
      return "input " + model.circuit.inputs()[static_cast<std::size_t>(node.number)].name;
    case NodeKind::not_:
      return "not";
    case NodeKind::and_:
      return "and";
    case NodeKind::or_:
      return "or";
    case NodeKind::choose:
      return "if then else";
    case NodeKind::equal:
      return "=";
    case NodeKind::less_equal:
      return "<=";
    case NodeKind::add:
      return "+";
    case NodeKind::times:
      return fmt::format("times {}", node.number);
    case NodeKind::previous:
      return fmt::format("previous, {} at first", node.number);
    case NodeKind::age:
      return fmt::format("ticks since{}, at most {}", node.number != 0 ? " (from power-up)" : "", node.cap);
  }
  return "";
}

/// What tells a node's operands apart where their order counts.
std::vector<std::string> operand_names(const Node& node) {
  if (node.kind == NodeKind::choose) return {"if", "then", "else"};
  if (node.kind == NodeKind::less_equal) return {"left", "right", ""};
  return {"", "", ""};
}

std::vector<bool> wanted_nodes(const Model& model, std::optional<std::uint32_t> claim) {
  if (claim) return solver::influence(model.circuit, {model.claims[*claim].watch});
  return std::vector<bool>(model.circuit.nodes().size(), true);
}

/// The names of a node: signals, and the claims that watch it.
std::multimap<NodeId, std::string> names_of(const Model& model) {
  std::multimap<NodeId, std::string> names;
  for (const dsl::Signal& signal : model.signals) names.emplace(signal.node, signal.name);
  for (const dsl::Claim& claim : model.claims) {
    names.emplace(claim.watch, fmt::format("{}: {}", claim.possible ? "done" : "broken", claim.name));
  }
  for (const dsl::Constraint& constraint : model.constraints) {
    names.emplace(constraint.node, "assumed: " + constraint.name);
  }
  return names;
}

std::string operand_lines(const Node& node, NodeId id) {
  std::string text;
  const std::vector<std::string> names = operand_names(node);
  const NodeId operands[] = {node.a, node.b, node.c};
  for (std::size_t index = 0; index < 3; ++index) {
    if (operands[index] == dsl::no_node) continue;
    std::string attributes = node.kind == NodeKind::previous ? " [style=dashed]" : "";
    if (!names[index].empty()) attributes = fmt::format(" [headlabel={}]", quoted({names[index]}));
    text += fmt::format("n{} -> n{}{};\n", operands[index], id, attributes);
  }
  return text;
}

}  // namespace

std::string elements_dot(const dsl::Compiled& compiled) {
  const Model& model = *compiled.model;
  const report::Picture picture = report::picture_of(compiled, std::numeric_limits<std::size_t>::max());
  return report::dot_text(
      picture,
      {.head = fmt::format("label={}; labelloc=t; rankdir=LR; newrank=true; node [shape=box];\n",
                           title_of(compiled)),
       .name = [&](std::size_t index) { return id_of(model.signals[picture.nodes[index].signal].name); },
       .node = [&](std::size_t index) { return node_attributes(model, picture.nodes[index]); },
       .frame = [](const std::string& frame) { return "label=" + quoted({frame}); },
       .edge =
           [](const report::PictureEdge& edge) {
             return edge.earlier ? " [style=dashed, constraint=false]" : "";
           }});
}

std::string circuit_dot(const dsl::Compiled& compiled, std::optional<std::uint32_t> claim) {
  const Model& model = *compiled.model;
  const std::vector<bool> wanted = wanted_nodes(model, claim);
  const auto names = names_of(model);
  std::string text = fmt::format("digraph {{ label={}; labelloc=t; node [shape=box];\n", title_of(compiled));
  for (NodeId id = 0; id < wanted.size(); ++id) {
    if (!wanted[id]) continue;
    const Node& node = model.circuit.node(id);
    std::vector<std::string> lines;
    const auto [first, last] = names.equal_range(id);
    for (auto at = first; at != last; ++at) lines.push_back(at->second);
    lines.push_back(operation(model, node));
    text += fmt::format("n{} [label={}{}];\n", id, quoted(lines),
                        node.kind == NodeKind::input ? ", shape=oval" : "");
    text += operand_lines(node, id);
  }
  return text + "}\n";
}

}  // namespace detent::cli
