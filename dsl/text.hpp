// Small things done to text.
#pragma once

#include <string>
#include <string_view>

namespace detent::dsl {

/// The text on one line: each stretch of white space becomes one space, comments are left out.
[[nodiscard]] std::string one_line(std::string_view text);

}  // namespace detent::dsl
