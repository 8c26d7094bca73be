// Which byte is what, in a text of the language.
#pragma once

#include <cstring>

#include "dsl/grammar/reading.hpp"

namespace detent::dsl::grammar {

inline bool is_digit(char byte) {
  return byte >= '0' && byte <= '9';
}

inline bool begins_word(char byte) {
  return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') || byte == '_';
}

inline bool is_word_character(char byte) {
  return begins_word(byte) || is_digit(byte);
}

inline bool is_blank(char byte) {
  return byte == ' ' || byte == '\t';
}

/// Whatever is not printable ASCII counts as white space: where it is not permitted, characters.cpp has
/// said so already, and reading goes on as if it were not there.
inline bool is_white(char byte) {
  return byte <= ' ' || byte > '~';
}

inline Cursor end_of_line(Cursor at, Cursor end) {
  const void* found = std::memchr(at, '\n', static_cast<std::size_t>(end - at));
  return found == nullptr ? end : static_cast<Cursor>(found);
}

}  // namespace detent::dsl::grammar
