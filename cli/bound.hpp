// How many ticks are looked at, and why that many: a bounded verdict is worth as much as its bound.
#pragma once

#include <optional>
#include <string>

#include "cli/quantities.hpp"
#include "dsl/model.hpp"

namespace detent::cli {

struct Bound {
  dsl::Value ticks = 0;
  std::string reason;  ///< where the number comes from, for the page
  bool asked = false;  ///< the user asked for it
};

/// What `--within` says, exactly; for `auto` (or nothing) twice the longest time in the design and 50 ticks more,
/// but at least 100 and at most 2000 ticks.
[[nodiscard]] Reading<Bound> choose_bound(const dsl::Model& model, const std::optional<std::string>& within);

/// Whether the longest time in the design fits into the bound: if not, what needs it is never reached.
[[nodiscard]] bool reaches_longest_time(const dsl::Model& model, dsl::Value ticks);

}  // namespace detent::cli
