// A look round by chance before anything is asked of Z3: random runs on the interpreter.
// What they meet is true; what they do not meet means nothing.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "solver/limits.hpp"
#include "solver/run.hpp"
#include "solver/search.hpp"

namespace detent::solver {

struct Sights {
  /// For each node asked for: the shortest run met that makes it true in its last tick.
  std::vector<std::optional<Run>> runs;
  Value longest_run = 0;  ///< ticks of the longest run that keeps the constraints
  std::vector<Value>
      first_values;           ///< of every node, at tick 0 of one run that keeps the constraints; or empty
  std::vector<bool> changed;  ///< of every node: had a value other than that, at any tick of any run
};

[[nodiscard]] Sights explore(const Setting& setting, const std::vector<NodeId>& nodes, Value ticks,
                             const Limits& limits);

}  // namespace detent::solver
