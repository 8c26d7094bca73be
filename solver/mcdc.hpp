// Which valuations of a decision show that each of its conditions matters on its own (MC/DC).
//
// A decision is a truth function of conditions. A condition is shown to matter by two valuations in which it
// and the outcome differ:
//   unique cause  all other conditions are the same in both;
//   masking       in each of the two, the outcome hangs on this condition (turning it alone would turn the
//   outcome), and
//                 the others may be what they like.
// Every pair by unique cause is one by masking. N conditions that all matter need at least N + 1 valuations
// by unique cause: their pairs are edges of the N-cube in N different directions, which close no circle.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

namespace detent::solver {

/// Bit i is the value of condition i.
using Valuation = std::uint32_t;

inline constexpr unsigned most_mcdc_conditions = 12;

struct Decision {
  unsigned conditions = 0;         ///< at most most_mcdc_conditions
  std::vector<bool> outcome = {};  ///< by valuation, 2^conditions of them
};

enum class Mcdc { unique_cause, masking };

/// Whether these two valuations show that the condition matters.
[[nodiscard]] bool is_mcdc_pair(const Decision& decision, unsigned condition, Valuation one, Valuation other,
                                Mcdc variant);

/// Whether two of the valuations do.
[[nodiscard]] bool shows_condition(const Decision& decision, unsigned condition,
                                   const std::vector<Valuation>& set, Mcdc variant);

/// What a valuation costs: nothing where it is there already; absent where it can't be had.
using ValuationCost = std::function<std::optional<unsigned>(Valuation)>;

struct McdcSet {
  std::vector<Valuation> valuations = {};  ///< ascending
  std::vector<unsigned> not_shown = {};    ///< conditions that no two valuations that can be had show
  bool smallest = true;  ///< no other set costs less; false: the search for one was cut short
};

/// A set of the least cost that shows every condition that can be shown.
[[nodiscard]] McdcSet smallest_mcdc_set(const Decision& decision, Mcdc variant, const ValuationCost& cost);

/// The same where every valuation costs 1.
[[nodiscard]] McdcSet smallest_mcdc_set(const Decision& decision, Mcdc variant);

}  // namespace detent::solver
