// Powers of ten, for numbers that are kept without their point.
#pragma once

#include "dsl/circuit.hpp"

namespace detent::dsl {

/// 10 to the power of `exponent`, 0 to 18; 1 for anything below.
[[nodiscard]] constexpr Value power_of_ten(int exponent) {
  Value power = 1;
  for (; exponent > 0; --exponent) power *= 10;
  return power;
}

}  // namespace detent::dsl
