// A text as what stands in it, one after the other: tokens as the grammar takes them, each with the comments
// before it and with what it is to its declaration.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

#include "dsl/tree.hpp"

namespace detent::dsl::format {

struct Comment {
  std::string_view text;        ///< from `//` on, without blanks at its end
  std::uint32_t line_ends = 0;  ///< between what stands before it and it
  std::size_t column = 0;       ///< where it begins, from 0
};

/// A unit stands behind its number and on the same line.
enum class Kind : std::uint8_t { word, number, unit, text, mark, end_of_text };

/// What begins with a token: these begin a line in any layout.
enum class Role : std::uint8_t { inner, declaration, move, part_end, end_of_text };

struct Token {
  std::string_view text;
  std::uint32_t begin = 0;
  std::uint32_t line_ends = 0;      ///< between what stands before it, a comment as well, and it
  std::uint32_t first_comment = 0;  ///< those before it: [first_comment, last_comment) of Tokens::comments
  std::uint32_t last_comment = 0;
  std::uint32_t head = 0;         ///< the token that begins its declaration
  std::uint32_t move = 0;         ///< the token that begins its line of `stages`; 0: it stands in none
  std::uint32_t brackets = 0;     ///< round brackets that are open before it
  std::uint32_t pad = 0;          ///< blanks before it beyond the usual, so that columns come to stand
  std::uint32_t name_column = 0;  ///< of a declaration: where its name begins
  std::uint16_t depth = 0;        ///< parts that it stands in
  Kind kind = Kind::mark;
  Role role = Role::inner;
  bool begins_claim = false;       ///< the first of what is claimed
  bool begins_lost_value = false;  ///< the first of a value behind `lost:`
  bool apart = false;              ///< of a claim: what is claimed begins on a line of its own

  [[nodiscard]] bool has_comments() const { return first_comment != last_comment; }
};

/// The last token is an empty one at the end of the text.
struct Tokens {
  std::vector<Token> tokens;
  std::vector<Comment> comments;
  [[nodiscard]] const Token& operator[](std::size_t at) const { return tokens[at]; }
  [[nodiscard]] Token& operator[](std::size_t at) { return tokens[at]; }
};

/// Of a text that parse() reads without an error; `tree` is what it made of it.
[[nodiscard]] Tokens tokens_of(std::string_view text, std::uint32_t file, const Tree& tree);

/// Columns that a text takes from column 0 on; a tab goes on to the next multiple of 8.
[[nodiscard]] std::size_t width_of(std::string_view text);

}  // namespace detent::dsl::format
