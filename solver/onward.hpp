// From where a run stands, on to where a condition is true: the shortest way that one person can go.
#pragma once

#include <optional>
#include <vector>

#include "dsl/model.hpp"
#include "solver/limits.hpp"
#include "solver/run.hpp"

namespace detent::solver {

/// How a person moves things, by input of the model's circuit.
struct Operator {
  Value apart = 1;                ///< ticks between two movements, and from power-up to the first; at least 1
  std::vector<bool> steady = {};  ///< no hand can move it once the power is on
  std::vector<std::size_t> hand = {};  ///< which hand moves it (hands_of)
};

/// By input: the first of those that one hand moves with it. Two inputs of which an assumption says that they
/// are always the same, or always different (both contacts of one button), are moved by one hand.
[[nodiscard]] std::vector<std::size_t> hands_of(const dsl::Model& model);

/// How far a search goes before it gives up.
struct OnwardLimits {
  int steps = 12;           ///< moments at which something happens, however much quiet time lies between them
  Value ticks = 1'000'000;  ///< of the whole run
  unsigned patience_ms = 3000;  ///< for each step
};

struct Onward {
  enum class Kind {
    found,  ///< `run` begins with the run so far, keeps all constraints, and is true in its last tick
    none,   ///< no way of so many steps
    stopped,
  } kind = Kind::none;
  Run run = {};
};

/// `so_far` keeps all constraints; where it is empty, the search begins at power-up. Fewest steps first, then
/// fewest movements, then fewest ticks. One thing moves at a time, `apart` ticks after the last one or later.
/// Throws InternalDisagreement.
[[nodiscard]] Onward go_onward(const dsl::Model& model, const Run& so_far, NodeId condition,
                               const Operator& by, const OnwardLimits& how_far, const Limits& limits);

}  // namespace detent::solver
