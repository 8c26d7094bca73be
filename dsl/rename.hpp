// Giving something another name, everywhere at once, so that nothing else changes.
#pragma once

#include <string>

#include "dsl/front.hpp"
#include "dsl/name_index.hpp"

namespace detent::dsl {

/// Why nothing of this sort can be called so, in words: "'latch' is a word of the language"; "" if it can.
[[nodiscard]] std::string name_problem(NameSort sort, const std::string& name);

/// Whether a text has mistakes of grammar: then not every use of a name is known.
[[nodiscard]] bool is_read_whole(const Diagnostics& diagnostics);

/// Why a thing of this design can't be called so: name_problem(), or what would go wrong. The texts are read
/// again with the new name, and every name has to mean what it meant. `names` is the design's index.
[[nodiscard]] std::string rename_problem(const Compiled& design, const NameIndex& names, std::size_t thing,
                                         const std::string& name);

/// The text of one file with the new name in the place of the old one.
[[nodiscard]] std::string renamed_text(const Compiled& design, const NameIndex& names, std::size_t thing,
                                       const std::string& name, std::uint32_t file);

}  // namespace detent::dsl
