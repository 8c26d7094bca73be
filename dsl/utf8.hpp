// Characters of a text in UTF-8, one at a time.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace detent::dsl {

struct Character {
  char32_t code = 0;     ///< the code point; of a byte that is not UTF-8 the byte
  std::size_t size = 1;  ///< bytes
  bool valid = true;
};

/// The character that begins at `text[at]`; at < text.size().
[[nodiscard]] Character character_at(std::string_view text, std::size_t at);

/// Control characters and those that change the direction of writing: never shown to a person as they are.
[[nodiscard]] bool is_unprintable(const Character& character);

/// Columns that a terminal gives to a printable character: 0 for a combining one, 2 for a wide one, else 1.
[[nodiscard]] int columns(char32_t code);

/// `text` with U+FFFD in place of each unprintable character and each byte that is not UTF-8, and a space
/// for a tab: safe to show on a terminal.
[[nodiscard]] std::string printable(std::string_view text);

}  // namespace detent::dsl
