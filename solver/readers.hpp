// What a condition can see of an input. Private to the solver.
#pragma once

#include <optional>
#include <vector>

#include "dsl/circuit.hpp"

namespace detent::solver {

/// Conditions that depend on this input alone, in the same tick, and through which alone the roots depend on
/// it: a stick that is only compared with two levels is seen as two conditions. Absent where something looks
/// at the value itself (a comparison of two sticks, a kept value); empty where nothing looks at the input at
/// all.
[[nodiscard]] std::optional<std::vector<dsl::NodeId>> readers_of(const dsl::Circuit& circuit,
                                                                 dsl::NodeId input,
                                                                 const std::vector<dsl::NodeId>& roots);

}  // namespace detent::solver
