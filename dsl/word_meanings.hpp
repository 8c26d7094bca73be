// What each word of the language means, in one sentence: for help at the place where it stands. The tables of
// dsl/README.md say the same; a test holds one against the other.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

namespace detent::dsl {

enum class WordSort : std::uint8_t {
  declaration,  ///< begins a declaration
  function,     ///< a call in an expression
  inner,        ///< inside a declaration, reserved
  plain,        ///< has a meaning in its place only, and may be a name elsewhere
};

struct WordMeaning {
  std::string_view word;
  WordSort sort = WordSort::inner;
  std::string_view form;     ///< how it is written, with what belongs to it
  std::string_view meaning;  ///< one sentence
};

[[nodiscard]] std::span<const WordMeaning> word_meanings();
/// Null for what is no word of the language.
[[nodiscard]] const WordMeaning* meaning_of(std::string_view word);

}  // namespace detent::dsl
