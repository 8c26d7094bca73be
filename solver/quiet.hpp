// Quiet time, as the interpreter sees it: for how many ticks nothing will change but clocks that count on, if
// no hand moves.
#pragma once

#include <vector>

#include "dsl/circuit.hpp"

namespace detent::solver {

/// What must stay as it is while time is quiet. Made once for a circuit; keeps no reference to it.
class Quiet {
 public:
  explicit Quiet(const dsl::Circuit& circuit);

  /// Ticks that may follow the one with these values (one per node), inputs held, in which every node but the
  /// clocks keeps its value: at most `most`, which is >= 0.
  [[nodiscard]] dsl::Value ahead(const std::vector<dsl::Value>& values, dsl::Value most) const;

 private:
  struct Delay {
    dsl::NodeId node = dsl::no_node, of = dsl::no_node;  ///< a `previous`, and what it remembers
  };
  struct Clock {
    dsl::NodeId node = dsl::no_node, event = dsl::no_node;
    dsl::Value cap = 0;
    std::vector<dsl::Value> limits = {};  ///< the numbers it is compared with, ascending
    bool counted = false;                 ///< somebody looks at its very value
  };
  std::vector<Delay> delays_;
  std::vector<Clock> clocks_;
};

/// By node: for a clock the numbers it is compared with, ascending; for others nothing.
[[nodiscard]] std::vector<std::vector<dsl::Value>> clock_limits(const dsl::Circuit& circuit);

}  // namespace detent::solver
