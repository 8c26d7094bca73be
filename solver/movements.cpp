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
  NodeId moves = circuit_.truth(false);
  for (const NodeId node : input.seen) {
    const NodeId before = circuit_.previous(node, 0);
    moves = circuit_.or_(moves, input.rate_limited ? sets_out(node, before, later)
                                                   : circuit_.not_(circuit_.equal(node, before)));
  }
  return circuit_.and_(later, moves);
}

NodeId Movements::sets_out(NodeId node, NodeId before, NodeId later) {
  NodeId starts = circuit_.truth(false);
  for (const NodeId way : {circuit_.less(before, node), circuit_.less(node, before)}) {
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
