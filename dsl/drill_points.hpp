// What a bench list should bring about: moments of elements, and the decisions that they are made of.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "dsl/design.hpp"
#include "dsl/source.hpp"

namespace detent::dsl {

/// A condition that should be true in some tick of the list.
struct DrillPoint {
  std::string words;  ///< "window runs out", "live is set"
  std::size_t element = 0;
  Term when;
};

/// In the order of the design: every input at each of its positions, every condition on and off, every stage,
/// every line of stages, every pulse, delay and linger to its end, every latch set and reset by the condition
/// for it, every counter at both ends, every keep taking and keeping.
[[nodiscard]] std::vector<DrillPoint> drill_points(const Design& design, const Sources& sources);

/// A condition made of others by `and`, `or`, `not`, by comparing conditions or by choosing between them.
struct DrillDecision {
  std::size_t element = 0;
  std::string text;             ///< as written
  const Term* whole = nullptr;  ///< of the design
  std::vector<const Term*> conditions =
      {};  ///< what it is made of, from left to right; the same may occur twice
};

/// Every decision of every element, the outermost first; also those of a single condition.
[[nodiscard]] std::vector<DrillDecision> drill_decisions(const Design& design, const Sources& sources);

/// What the decision is where its conditions, in their order, have these values.
[[nodiscard]] bool decide(const Term& whole, const std::vector<bool>& values);

/// As written, on one line.
[[nodiscard]] std::string written(const Term& term, const Sources& sources);

/// The design with these as further `possible` claims, behind its own and in this order.
[[nodiscard]] Design asking_for(const Design& design, const std::vector<Term>& conditions);

}  // namespace detent::dsl
