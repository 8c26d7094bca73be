// Which words of the language can follow which. Private to what_fits.
#pragma once

#include <span>
#include <string_view>

#include "dsl/loose_tokens.hpp"

namespace detent::dsl {

/// Operators behind a whole operand.
[[nodiscard]] std::span<const std::string_view> words_after_operand();

/// The words inside a declaration that this word begins, in the order in which they are written.
[[nodiscard]] std::span<const std::string_view> words_within(std::string_view declaration);

/// Whether a value, and no operator, has to come behind this token.
[[nodiscard]] bool awaits_operand(const LooseToken& last);

[[nodiscard]] bool may_begin_in_part(std::string_view declaration);

}  // namespace detent::dsl
