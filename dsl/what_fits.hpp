// What may be written at a place in a text that is being written: names, positions, units and words of the
// language. A help and no grammar: it looks at the tokens before the place, so that it works in the middle of
// a mistake, and offers rather too much than too little.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "dsl/name_index.hpp"
#include "dsl/source.hpp"

namespace detent::dsl {

enum class FittingSort { word, function, name, position, unit };

struct Fitting {
  std::string text;
  FittingSort sort = FittingSort::word;
  std::size_t thing = no_thing;  ///< what a name or a position means
};

struct WhatFits {
  std::uint32_t begin = 0;        ///< what is written there replaces the text from here to the place
  std::vector<Fitting> all = {};  ///< the most likely first
};

/// Nothing in a comment, in a sentence, and where a new name is to be made up.
[[nodiscard]] WhatFits what_fits(const NameIndex& names, const Sources& sources, std::uint32_t file,
                                 std::uint32_t offset);

}  // namespace detent::dsl
