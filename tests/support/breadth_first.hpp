// The slow and obvious twin of a bounded check: every input in every state, level by level, on the
// interpreter.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "dsl/circuit.hpp"

namespace detent::test {

struct BreadthFirst {
  /// For each node asked for: ticks of the shortest run, up to `ticks`, that makes it true in its last tick.
  std::vector<std::optional<std::size_t>> shortest;
  /// The smallest number of ticks, up to `ticks`, of which there is no run.
  std::optional<std::size_t> no_run_of;
};

/// Looks at every run of up to `ticks` ticks that keeps the constraints. Absent where it meets more than
/// `most_states` states.
[[nodiscard]] std::optional<BreadthFirst> breadth_first(const dsl::Circuit& circuit,
                                                        const std::vector<dsl::NodeId>& nodes,
                                                        const std::vector<dsl::NodeId>& constraints,
                                                        std::size_t ticks, std::size_t most_states);

}  // namespace detent::test
