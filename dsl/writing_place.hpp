// What stands before a place at which somebody writes. Private to what_fits.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "dsl/loose_tokens.hpp"

namespace detent::dsl {

struct WritingPlace {
  bool nothing_fits = false;      ///< a comment, a sentence or a number is being written
  std::uint32_t begin = 0;        ///< of what is written of a word already, or the place itself
  std::string_view partial = {};  ///< that word so far, with its dots
  /// Of the declaration that is being written, up to that word, without comments and sentences; the first is
  /// the word that begins it. None where a declaration begins.
  std::vector<LooseToken> tokens = {};
  bool new_line = false;  ///< nothing but that word stands on the line
};

/// `before`: the text up to the place.
[[nodiscard]] WritingPlace writing_place(std::string_view before);

}  // namespace detent::dsl
