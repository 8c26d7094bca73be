// A text of the language laid out afresh: blanks, line ends and columns by one rule, every word and comment
// kept.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>

#include "dsl/diagnostics.hpp"
#include "dsl/source.hpp"

namespace detent::dsl {

/// Columns that a line should keep to. A sentence, a comment or a name is never cut, so it may reach further.
inline constexpr std::size_t line_columns = 120;

/// File `file` of `sources`, laid out by the rules at the top of dsl/format.cpp. What is included is not
/// read: a file is laid out by itself.
///
/// The words, numbers, sentences and comments of the answer are those of the text, in the same order, so that
/// it reads as the same tree; laid out once more it stays as it is. Line ends are LF or CRLF as most of the
/// text's are, the last line has one, and a byte order mark stays.
///
/// Nothing, where the text can't be read (an error of grammar, a stray character, too many bytes): what is
/// wrong is added to `diagnostics`. What only check() would find is no hindrance.
///
/// Throws std::logic_error if the layout would not read as the same tree: a fault in this function, never in
/// the text.
[[nodiscard]] std::optional<std::string> format_text(const Sources& sources, std::uint32_t file,
                                                     Diagnostics& diagnostics);

}  // namespace detent::dsl
