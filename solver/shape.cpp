#include "solver/shape.hpp"

#include <fmt/format.h>

#include <iterator>
#include <utility>

namespace detent::solver {

using dsl::Circuit;
using dsl::no_node;
using dsl::Node;
using dsl::NodeKind;

bool is_number(const Node& node) {
  return node.kind == NodeKind::constant && !node.condition;
}

bool has_number_of_its_own(const Node& node) {
  return node.kind == NodeKind::previous && !node.condition;
}

std::array<NodeId, 3> operands_of(const Circuit& circuit, const Node& node) {
  std::array<NodeId, 3> operands{node.a, node.b, node.c};
  const bool either_way = node.kind == NodeKind::equal || node.kind == NodeKind::add;
  if (either_way && is_number(circuit.node(node.a))) std::swap(operands[0], operands[1]);
  return operands;
}

void each_number(const Circuit& circuit, const std::function<void(NodeId, std::size_t)>& visit) {
  for (NodeId id = 0; id < circuit.nodes().size(); ++id) {
    const Node& node = circuit.node(id);
    if (is_number(node)) continue;
    const auto operands = operands_of(circuit, node);
    for (std::size_t slot = 0; slot < operands.size(); ++slot) {
      if (operands[slot] != no_node && is_number(circuit.node(operands[slot]))) visit(id, slot);
    }
    if (has_number_of_its_own(node)) visit(id, std::size_t{3});
  }
}

Value number_at(const Circuit& circuit, NodeId id, std::size_t slot) {
  const Node& node = circuit.node(id);
  return slot == 3 ? node.number : circuit.node(operands_of(circuit, node)[slot]).number;
}

namespace {

std::string form_of(const Slice& slice, const dsl::Model& model, const dsl::Claim& claim) {
  const Circuit& circuit = slice.circuit;
  std::vector<std::size_t> place(circuit.nodes().size(), 0);
  std::size_t count = 0;
  for (NodeId id = 0; id < place.size(); ++id) {
    place[id] = is_number(circuit.node(id)) ? 0 : ++count;
  }
  std::string form = fmt::format("{} {};", claim.possible, claim.within.value_or(-1));
  const auto to = std::back_inserter(form);
  const auto write = [&](NodeId id) {
    fmt::format_to(to, "{} ", id == no_node ? -1 : static_cast<long>(place[id]));
  };
  for (NodeId id = 0; id < place.size(); ++id) {
    const Node& node = circuit.node(id);
    if (is_number(node)) continue;
    fmt::format_to(to, "{} {} ", static_cast<int>(node.kind), node.condition);
    for (const NodeId operand : operands_of(circuit, node)) write(operand);
    fmt::format_to(to, "{};", has_number_of_its_own(node) ? 0 : node.number);
  }
  write(slice.node_of[claim.watch]);
  for (const dsl::Constraint& constraint : model.constraints) {
    write(slice.node_of[constraint.node]);
    if (constraint.rate) {
      write(slice.node_of[constraint.rate->hand]);
      write(slice.node_of[constraint.rate->before]);
      fmt::format_to(to, "{};", constraint.rate->most);
    }
  }
  for (const std::size_t input : slice.inputs) {
    const dsl::CircuitInput& one = model.circuit.inputs()[input];
    fmt::format_to(to, "{} {} {} {} {};", input, one.condition, one.range.low, one.range.high, one.step);
  }
  fmt::format_to(to, "of {}", model.circuit.inputs().size());
  return form;
}

}  // namespace

Shape shape_of(const dsl::Model& model, std::uint32_t claim) {
  const Slice slice = slice_for(model, {model.claims[claim].watch});
  Shape shape{.form = form_of(slice, model, model.claims[claim])};
  each_number(slice.circuit, [&](NodeId id, std::size_t slot) {
    shape.numbers.push_back(number_at(slice.circuit, id, slot));
  });
  for (const Memory& memory : machine_of(slice, model, {model.claims[claim].watch}).memories) {
    shape.ranges.push_back(memory.range);
  }
  return shape;
}

}  // namespace detent::solver
