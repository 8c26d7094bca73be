// Limits of a design, in one place. Beyond each there is a message, never a surprise.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>

namespace detent::dsl {

/// Largest number that a level, count or any value computed from them may reach, in scaled units.
inline constexpr std::int64_t largest_level = 1'000'000'000'000;
/// Where sums and products stop growing: well past largest_level, so that whoever reaches it is reported,
/// and far enough from the end of 64 bits that the sum of two is still exact.
inline constexpr std::int64_t saturation = std::int64_t{1} << 50;
/// Longest duration, in ticks (over 200 days at 20 ms).
inline constexpr std::int64_t longest_duration = 1'000'000'000;
/// Most elements (inputs, elements, outputs) after all parts are put in, and most nodes of the circuit.
inline constexpr std::size_t most_elements = 200'000;
/// Parts within parts.
inline constexpr std::size_t deepest_parts = 50;

inline std::int64_t saturated(std::int64_t value) {
  return std::clamp(value, -saturation, saturation);
}

inline std::int64_t saturating_product(std::int64_t one, std::int64_t other) {
  std::int64_t result = 0;
  if (__builtin_mul_overflow(one, other, &result)) {
    return (one < 0) == (other < 0) ? saturation : -saturation;
  }
  return saturated(result);
}

}  // namespace detent::dsl
