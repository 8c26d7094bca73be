// Where a hand rests: the position that a person starts from who has been told nothing.
#pragma once

#include <vector>

#include "dsl/circuit.hpp"

namespace detent::solver {

/// One value for each input that it can take. Where the circuit itself puts a constant in the place of the
/// input (while a link is lost, while a lock is shut), that one; else buttons released, links there, switches
/// at their first position, levels at 0 or, where 0 is out of range, in the middle.
[[nodiscard]] std::vector<dsl::Value> rest_positions(const dsl::Circuit& circuit);

}  // namespace detent::solver
