// What one person can do, said to Z3: one hand at a time, and time between two movements. Private to the
// solver: names Z3's types, but does not include its header.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "solver/interpreter.hpp"
#include "solver/steps.hpp"

namespace detent::solver {

/// By input of a circuit.
struct HandManner {
  Value apart = 1;                ///< ticks from one movement to the next, and from power-up to the first
  std::vector<bool> steady = {};  ///< stays where it stood at power-up: no hand moves it
  std::vector<bool> slow = {};    ///< has a rate limit: going on is the same movement
  std::vector<Value> rest = {};   ///< where hands are best at power-up
  std::vector<std::size_t> hand = {};  ///< which hand moves it; what one hand moves may move at once
};

/// A machine somewhere on its way, for a search that goes on from there.
struct OnTheWay {
  Interpreter machine;        ///< of the slice, stepped at least once
  std::vector<Value> inputs;  ///< where the hands stand
  Value calm = 0;             ///< in the next tick, this is how long ago somebody moved something last
  std::size_t last_hand = 0;  ///< which hand that was (HandManner::hand), or a number that is none
};

/// Follows a search step by step. All that is referred to must outlive it.
class HandRules {
 public:
  /// `start`: null for power-up.
  HandRules(z3::context& context, const Machine& machine, const HandManner& manner, const OnTheWay* start);

  /// What keeps the next step to the rules. `stood`: where the inputs were at the end of the step before; at
  /// power-up empty. `suffix` makes names new.
  [[nodiscard]] std::vector<z3::expr> next(const Step& step, const std::vector<z3::expr>& stood,
                                           const std::string& suffix);

 private:
  z3::context& context_;
  const Machine& machine_;
  const HandManner& manner_;
  std::vector<z3::expr> calm_, last_;  ///< one term each
};

}  // namespace detent::solver
