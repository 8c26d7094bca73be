// What stands at a place of the text and where the next declaration begins: looks, takes nothing.
#include <algorithm>

#include "dsl/grammar/bytes.hpp"
#include "dsl/grammar/reading.hpp"
#include "dsl/grammar/words.hpp"

namespace detent::dsl::grammar {
namespace {

constexpr std::string_view long_marks[] = {"->", "=>", "==", "!=", "<=", ">=", "<>", "&&", "||"};

}  // namespace

bool is_reserved(std::string_view word) {
  return contains(declaration_words, word) || contains(call_words, word) || contains(inner_words, word);
}

std::string_view Reading::word_at(Cursor at) const {
  if (at == end() || !begins_word(*at)) return {};
  return {at, static_cast<std::size_t>(std::find_if_not(at, end(), is_word_character) - at)};
}

std::string_view Reading::token_at(Cursor at) const {
  if (at == end()) return {};
  if (is_word_character(*at)) {
    return {at, static_cast<std::size_t>(std::find_if_not(at, end(), is_word_character) - at)};
  }
  if (*at == '"') {
    const std::string_view line(at, static_cast<std::size_t>(end_of_line(at, end()) - at));
    return line.substr(0, line.find('"', 1) == line.npos ? 1 : line.find('"', 1) + 1);
  }
  for (const std::string_view mark : long_marks) {
    if (rest(at).starts_with(mark)) return rest(at).substr(0, mark.size());
  }
  return rest(at).substr(0, 1);
}

Cursor Reading::line_begin(Cursor at) const {
  while (at != begin() && at[-1] != '\n') --at;
  return at;
}

bool Reading::first_on_line(Cursor at) const {
  while (at != begin() && is_white(at[-1]) && at[-1] != '\n') --at;
  return at == begin() || at[-1] == '\n';
}

bool Reading::same_line_as_last(Cursor at) const {
  return std::find(last_end_, at, '\n') == at;
}

/// A line of `stages` begins with a word that is no declaration's: a stage or `any`. Where no arrow follows,
/// a word that looks like a declaration's is left to be reported as that.
bool Reading::move_begins(Cursor at) const {
  const std::string_view word = word_at(at);
  if (word == "any") return true;
  if (word.empty() || (is_reserved(word) && !contains(position_words, word))) return false;
  const Cursor next = after_white(at + word.size());
  if (next != end() && (*next == '-' || *next == '=')) return true;
  return nearest_name(word, {declaration_words.begin(), declaration_words.end()}).empty();
}

Cursor Reading::next_declaration(Cursor at) const {
  for (;;) {
    if (at == end()) return at;
    const std::string_view word = word_at(at);
    const bool declares = word == "end" || contains(declaration_words, word);
    if (declares && first_on_line(at)) {
      if (word != "at" || word_at(after_white(at + word.size())) == "power_up") return at;
    }
    at = after_white(end_of_line(at, end()));
  }
}

}  // namespace detent::dsl::grammar
