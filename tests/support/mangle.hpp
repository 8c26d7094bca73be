// Designs with their layout thrown about: the same words in the same order, and other blanks, line ends and
// comments.
#pragma once

#include <string>
#include <vector>

#include "tests/support/chance.hpp"

namespace detent::test {

/// A word of a text, and whether a line ends somewhere between it and the word before.
struct Word {
  std::string text;
  bool on_new_line = false;
};

/// The words of a text of the language, without its comments. Takes texts apart by itself, and knows only
/// what dsl/README.md says of them.
[[nodiscard]] std::vector<Word> words_of(const std::string& text);

/// The comments of a text, in order, without blanks at their ends.
[[nodiscard]] std::vector<std::string> comments_of(const std::string& text);

/// The same words, with other blanks between them only.
[[nodiscard]] std::string with_other_blanks(const std::string& text, Chance& chance);

/// The same words with anything between them that the language takes for blanks: line ends, none at all where
/// two words stay two, comments. The line ends are LF, or CRLF in every fourth text.
[[nodiscard]] std::string mangled(const std::string& text, Chance& chance);

}  // namespace detent::test
