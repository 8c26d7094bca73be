// How tokens stand to each other: where one blank or none is between two, and where a line may begin.
#pragma once

#include <cstddef>

#include "dsl/format/tokens.hpp"

namespace detent::dsl::format {

/// Blanks between a token and the one before it on the same line, without those for columns: 0 or 1.
[[nodiscard]] std::size_t gap_before(const Tokens& tokens, std::size_t at);

/// Whether a line inside a declaration may begin with a token: where a piece of it begins, or behind a comma
/// or a colon. A break that the author put anywhere else is taken out.
[[nodiscard]] bool may_begin_line(const Tokens& tokens, std::size_t at);

/// The same by the token's own word: `when`, `=`, `and`, `<=` … A break right behind it is meant for before
/// it.
[[nodiscard]] bool begins_piece(const Tokens& tokens, std::size_t at);

inline constexpr int no_rank = -1;
/// How good a place to break a line that is too long is before a token: less is better. no_rank: no such
/// place.
[[nodiscard]] int rank_of_break(const Tokens& tokens, std::size_t at);

}  // namespace detent::dsl::format
