// Designs with less assumed, or with more said of power-up.
#pragma once

#include <cstddef>
#include <map>
#include <string>

#include "dsl/design.hpp"

namespace detent::dsl {

/// Assumptions and conditions at power-up, counted together: `assume` first, then `at power_up`.
[[nodiscard]] std::size_t assumption_count(const Design& design);
[[nodiscard]] std::string assumption_name(const Design& design, std::size_t index);
[[nodiscard]] Place assumption_place(const Design& design, std::size_t index);

[[nodiscard]] Design without_assumption(const Design& design, std::size_t index);

/// Every hand begins where it rests (`rest`: values by input name), no link is lost at tick 0, and edges at
/// tick 0 are ignored.
[[nodiscard]] Design from_rest(const Design& design, const std::map<std::string, Value>& rest);

}  // namespace detent::dsl
