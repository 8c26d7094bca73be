#include "solver/rest.hpp"

#include <optional>

namespace detent::solver {
namespace {

using dsl::Circuit;
using dsl::CircuitInput;
using dsl::Node;
using dsl::NodeId;
using dsl::NodeKind;
using dsl::Value;

bool can_take(const CircuitInput& input, Value value) {
  return input.range.low <= value && value <= input.range.high && (value - input.range.low) % input.step == 0;
}

/// 0 also stands for the first position of a switch, a button that is released and a link that is there.
Value plain_rest(const CircuitInput& input) {
  if (can_take(input, 0)) return 0;
  const Value steps = (input.range.high - input.range.low) / input.step;
  return input.range.low + steps / 2 * input.step;
}

/// The larger or the smaller of two numbers is a choice too.
bool compares(const Node& condition, NodeId input) {
  return condition.kind == NodeKind::less_equal && (condition.a == input || condition.b == input);
}

/// The constant that a choice between the input and a constant puts in the input's place.
std::optional<Value> put_in_place(const Circuit& circuit, const Node& choice, NodeId input) {
  if (choice.kind != NodeKind::choose || compares(circuit.node(choice.a), input)) return {};
  if (choice.b == input && circuit.is_constant(choice.c)) return circuit.node(choice.c).number;
  if (choice.c == input && circuit.is_constant(choice.b)) return circuit.node(choice.b).number;
  return {};
}

Value rest_of(const Circuit& circuit, const CircuitInput& input) {
  if (!input.condition) {
    for (const Node& node : circuit.nodes()) {
      const std::optional<Value> constant = put_in_place(circuit, node, input.node);
      if (constant && can_take(input, *constant)) return *constant;
    }
  }
  return plain_rest(input);
}

}  // namespace

std::vector<Value> rest_positions(const Circuit& circuit) {
  std::vector<Value> positions;
  for (const CircuitInput& input : circuit.inputs()) positions.push_back(rest_of(circuit, input));
  return positions;
}

}  // namespace detent::solver
