// Text to tree: the one grammar of the language (Boost.Spirit X3 behind this small header).
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "dsl/diagnostics.hpp"
#include "dsl/source.hpp"
#include "dsl/tree.hpp"

namespace detent::dsl {

/// Limits on one text; one more than each is a message. Chosen so that no text can exhaust stack or memory.
inline constexpr std::size_t largest_file_bytes = std::size_t{4} * 1024 * 1024;
inline constexpr int deepest_nesting = 200;
inline constexpr std::size_t longest_name = 80;

/// Of a dotted name each segment is a name: the length of the longest.
[[nodiscard]] std::size_t longest_segment(std::string_view name);

/// Reads one file of `sources`. Never throws for what is in the text: every mistake that can be found in one
/// pass is added to `diagnostics`, and the tree holds the declarations that could be read.
/// Includes are left in the tree as they are; load() in dsl/load.hpp follows them.
[[nodiscard]] Tree parse(const Sources& sources, std::uint32_t file, Diagnostics& diagnostics);

/// The tree of a text that could not be read at all: nothing is missed in it.
[[nodiscard]] Tree broken_tree(const Place& place);

}  // namespace detent::dsl
