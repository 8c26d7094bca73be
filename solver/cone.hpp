// The cone of influence: which nodes a question depends on, and in which form each number is needed.
//
// Most numbers in a design are only compared with fixed numbers (a stick with its thresholds, a clock with
// its time, a stage with its index). For those it is enough to know, for each such threshold k, whether value
// <= k: the order encoding (Crawford and Baker, AAAI 1994; Tamura, Taga, Kitagawa, Banbara, "Compiling finite
// linear CSP into SAT", Constraints 14, 2009). Thresholds travel down through choices, `previous`, sums with
// a fixed number and products. Where two numbers that vary meet, or the thresholds get too many, binary
// digits are needed as well.
#pragma once

#include <vector>

#include "dsl/circuit.hpp"

namespace detent::solver {

struct Need {
  bool any = false;
  bool digits = false;                      ///< a number needed in binary
  std::vector<dsl::Value> thresholds = {};  ///< "value <= k" is needed for these k in [low, high), ascending
};

/// One entry for each node of the circuit.
struct Cone {
  std::vector<Need> needs;
};

[[nodiscard]] Cone cone_of(const dsl::Circuit& circuit, const std::vector<dsl::NodeId>& conditions);

/// Whether two numbers that vary meet (in a sum or a comparison) by their thresholds alone.
[[nodiscard]] bool meet_by_thresholds(const dsl::Node& a, const dsl::Node& b);

/// The largest value on the input's grid that is <= limit; limit >= low.
[[nodiscard]] dsl::Value on_grid(const dsl::CircuitInput& input, dsl::Value limit);

/// factor * x <= limit, turned into a question about x.
struct Quotient {
  bool at_most = true;  ///< x <= limit; else x > limit
  dsl::Value limit = 0;
};
[[nodiscard]] Quotient quotient(dsl::Value factor, dsl::Value limit);

}  // namespace detent::solver
