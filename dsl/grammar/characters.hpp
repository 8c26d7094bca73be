// Characters that no text of the language may hold, found before the grammar reads it.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "dsl/diagnostics.hpp"

namespace detent::dsl::grammar {

struct Strangers {
  Diagnostics diagnostics;
  std::vector<std::uint32_t> offsets;  ///< of the characters that are reported, ascending
  bool too_many = false;               ///< the text is not worth reading
};

/// Control characters, bytes that are not UTF-8, characters that change the direction of writing, and,
/// outside of comments and texts in quotes, all that is not ASCII.
[[nodiscard]] Strangers find_strangers(std::string_view text, std::uint32_t file);

}  // namespace detent::dsl::grammar
