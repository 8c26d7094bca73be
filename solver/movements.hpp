// Movements of hands, counted by the circuit itself. Private to the solver.
#pragma once

#include <vector>

#include "dsl/circuit.hpp"

namespace detent::solver {

/// One input as a hand that moves it: it has moved where one of these is not what it was one tick ago. That
/// is the input itself, or what can be seen of it.
struct MovedInput {
  std::vector<dsl::NodeId> seen = {};
  bool rate_limited = false;  ///< a level, itself: going on in the same direction is still the same movement
};

/// Adds nodes that count to a circuit. The circuit must outlive it and may grow otherwise too.
class Movements {
 public:
  Movements(dsl::Circuit& circuit, std::vector<MovedInput> inputs);

  /// How many movements there have been in this and all earlier ticks, but not more than `most`. Where `anew`
  /// is true, counting starts anew, and this tick does not count. Standing anywhere at power-up is no
  /// movement.
  [[nodiscard]] dsl::NodeId counted(dsl::NodeId anew, dsl::Value most);

  /// How many of the inputs have moved by now.
  [[nodiscard]] dsl::NodeId inputs_moved();

 private:
  [[nodiscard]] dsl::NodeId moves_now(const MovedInput& input);
  [[nodiscard]] dsl::NodeId sets_out(dsl::NodeId node, dsl::NodeId before, dsl::NodeId later);
  [[nodiscard]] dsl::NodeId one_if(dsl::NodeId condition);

  dsl::Circuit& circuit_;
  std::vector<MovedInput> inputs_;
};

}  // namespace detent::solver
