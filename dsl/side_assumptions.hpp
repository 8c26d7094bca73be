// What either of two designs assumes, and what both do together. Private to dsl/side_by_side.cpp.
#pragma once

#include <array>

#include "dsl/side_by_side.hpp"

namespace detent::dsl {

/// Fills in the constraints of `both`, of each side and of the two together; its circuit must be complete.
void put_assumptions_side_by_side(const std::array<const Model*, 2>& from, SideBySide& both);

}  // namespace detent::dsl
