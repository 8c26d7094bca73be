// The circuit as a listing, one node a line.
#include <fmt/format.h>

#include <string_view>

#include "dsl/circuit.hpp"

namespace detent::dsl {
namespace {

std::string_view word(NodeKind kind) {
  switch (kind) {
    case NodeKind::constant:
      return "constant";
    case NodeKind::input:
      return "input";
    case NodeKind::not_:
      return "not";
    case NodeKind::and_:
      return "and";
    case NodeKind::or_:
      return "or";
    case NodeKind::choose:
      return "choose";
    case NodeKind::equal:
      return "equal";
    case NodeKind::less_equal:
      return "at-most";
    case NodeKind::add:
      return "add";
    case NodeKind::times:
      return "times";
    case NodeKind::previous:
      return "previous";
    case NodeKind::age:
      return "age";
  }
  return "?";
}

std::string details(const Circuit& circuit, const Node& node) {
  switch (node.kind) {
    case NodeKind::constant:
      return node.condition ? (node.number != 0 ? " true" : " false") : fmt::format(" {}", node.number);
    case NodeKind::input:
      return " " + circuit.inputs()[static_cast<std::size_t>(node.number)].name;
    case NodeKind::times:
      return fmt::format(" by {}", node.number);
    case NodeKind::previous:
      return fmt::format(" starting {}", node.number);
    case NodeKind::age:
      return fmt::format(" up to {}, {}", node.cap, node.number != 0 ? "as if just now" : "never yet");
    default:
      return "";
  }
}

}  // namespace

std::string to_text(const Circuit& circuit, const std::function<std::string(NodeId)>& name) {
  std::string text;
  for (NodeId id = 0; id < circuit.nodes().size(); ++id) {
    const Node& node = circuit.node(id);
    std::string line = fmt::format("{:>4}: {}", id, word(node.kind));
    for (const NodeId operand : {node.a, node.b, node.c}) {
      if (operand != no_node) {
        line += fmt::format(" {}", operand);
      }
    }
    line += details(circuit, node);
    if (!node.condition) {
      line += fmt::format("  [{} .. {}]", node.range.low, node.range.high);
    }
    const std::string called = name ? name(id) : "";
    text += called.empty() ? line + "\n" : fmt::format("{:<44}  // {}\n", line, called);
  }
  return text;
}

}  // namespace detent::dsl
