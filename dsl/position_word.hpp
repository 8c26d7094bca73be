// The word behind `is`.
#pragma once

#include <algorithm>
#include <cstdint>

#include "dsl/tree.hpp"

namespace detent::dsl {

/// Where the position stands in a comparison by `is` or `is not`, which it ends.
inline Place place_of_position(const Expr& comparison) {
  Place place = comparison.place;
  const auto size = static_cast<std::uint32_t>(comparison.text.size());
  place.begin = std::max(place.begin, place.end - std::min(place.end, size));
  return place;
}

}  // namespace detent::dsl
