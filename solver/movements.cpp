#include "solver/movements.hpp"

#include <utility>

namespace detent::solver {

using dsl::NodeId;
using dsl::Value;

Movements::Movements(dsl::Circuit& circuit, std::vector<MovedInput> inputs)
    : circuit_(circuit), inputs_(std::move(inputs)) {}

NodeId Movements::one_if(NodeId condition) {
  return circuit_.choose(condition, circuit_.constant(1), circuit_.constant(0));
}

NodeId Movements::moves_now(const MovedInput& input) {
  const NodeId later = circuit_.not_(circuit_.first_tick());
  const NodeId before = circuit_.previous(input.node, 0);
  if (!input.rate_limited) {
    return circuit_.and_(later, circuit_.not_(circuit_.equal(input.node, before)));
  }
  NodeId starts = circuit_.truth(false);
  for (const NodeId way : {circuit_.less(before, input.node), circuit_.less(input.node, before)}) {
    const NodeId moves = circuit_.and_(later, way);
    starts = circuit_.or_(starts, circuit_.and_(moves, circuit_.not_(circuit_.previous(moves, 0))));
  }
  return starts;
}

NodeId Movements::counted(NodeId anew, Value most) {
  const NodeId limit = circuit_.constant(most);
  const NodeId before = circuit_.open_previous(false, 0);
  NodeId sum = before;
  for (const MovedInput& input : inputs_) sum = circuit_.add(sum, one_if(moves_now(input)));
  const NodeId held = circuit_.choose(circuit_.less_equal(sum, limit), sum, limit);
  const NodeId total = circuit_.choose(anew, circuit_.constant(0), held);
  circuit_.connect(before, total);
  return total;
}

NodeId Movements::inputs_moved() {
  NodeId sum = circuit_.constant(0);
  for (const MovedInput& input : inputs_) {
    const NodeId before = circuit_.open_previous(true, 0);
    const NodeId moved = circuit_.or_(before, moves_now(input));
    circuit_.connect(before, moved);
    sum = circuit_.add(sum, one_if(moved));
  }
  return sum;
}

}  // namespace detent::solver
