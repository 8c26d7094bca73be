// What stands in a text, with or without mistakes, one after the other: enough to see what is being written
// at a place. The grammar alone says what a text means.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

namespace detent::dsl {

struct LooseToken {
  enum class Kind : std::uint8_t { word, number, sentence, comment, mark };
  Kind kind = Kind::mark;
  std::string_view text;    ///< of a name with dots the whole; `->` `==` `!=` `<=` `>=` are one mark
  std::uint32_t begin = 0;  ///< in bytes
  std::uint32_t end = 0;
  bool first_on_line = false;
  bool same_line = false;  ///< as the token before it
};

/// A sentence without its second quote ends with its line, as a comment does.
[[nodiscard]] std::vector<LooseToken> loose_tokens(std::string_view text);

}  // namespace detent::dsl
