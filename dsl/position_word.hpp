// The word behind `is`.
#pragma once

#include "dsl/source.hpp"
#include "dsl/tree.hpp"

namespace detent::dsl {

/// Where the position stands in a comparison by `is` or `is not`.
[[nodiscard]] Place place_of_position(const Expr& comparison, const Sources& sources);

}  // namespace detent::dsl
