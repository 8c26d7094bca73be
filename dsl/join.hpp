// Two circuits in one, where what remembers the same is one memory.
#pragma once

#include <array>
#include <functional>
#include <vector>

#include "dsl/circuit.hpp"

namespace detent::dsl {

/// By design: the node of the joined circuit that stands for each of its inputs.
using PlacedInputs = std::array<std::vector<NodeId>, 2>;

struct JoinedCircuit {
  Circuit circuit;                             ///< not finished: questions may be added
  std::array<std::vector<NodeId>, 2> node_of;  ///< by design and node of it
};

/// `place_inputs` adds the inputs to an empty circuit; it is called several times and must always do the
/// same.
[[nodiscard]] JoinedCircuit join_circuits(const Circuit& a, const Circuit& b,
                                          const std::function<PlacedInputs(Circuit&)>& place_inputs);

}  // namespace detent::dsl
