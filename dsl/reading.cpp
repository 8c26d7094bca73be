// Tokens of the language, taken by hand: words, names, marks and texts in quotes. Numbers and operators have
// files of their own.
#include "dsl/grammar/reading.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "dsl/grammar.hpp"
#include "dsl/grammar/bytes.hpp"
#include "dsl/grammar/words.hpp"

namespace detent::dsl::grammar {
namespace {

constexpr std::size_t most_diagnostics = 50;

}  // namespace

Cursor Reading::after_white(Cursor at) const {
  for (;;) {
    while (at != end() && is_white(*at)) ++at;
    if (end() - at < 2 || at[0] != '/' || at[1] != '/') return at;
    at = end_of_line(at, end());
  }
}

bool Reading::took(Cursor& at, Cursor token_end) {
  last_begin_ = at;
  last_end_ = token_end;
  at = after_white(token_end);
  return true;
}

bool Reading::take_word(Cursor& at, std::string_view word) {
  return word_at(at) == word && took(at, at + word.size());
}

bool Reading::take_mark(Cursor& at, std::string_view mark) {
  if (!rest(at).starts_with(mark)) return false;
  if (mark == "-" && rest(at).starts_with("->")) return false;
  return took(at, at + mark.size());
}

bool Reading::took_name(Cursor& at, std::size_t size, Name& name) {
  name.text.assign(at, size);
  name.place = place(at, at + size);
  const std::size_t longest = longest_segment(name.text);
  if (longest > longest_name) {
    report({Code::syntax, name.place,
            fmt::format("this name has {} characters; a name has at most {}", longest, longest_name),
            "choose a shorter name"});
  }
  return took(at, at + size);
}

bool Reading::take_name(Cursor& at, Name& name) {
  const std::string_view word = word_at(at);
  return !word.empty() && !is_reserved(word) && took_name(at, word.size(), name);
}

bool Reading::take_dotted_name(Cursor& at, Name& name) {
  std::string_view word = word_at(at);
  if (word.empty() || is_reserved(word)) return false;
  Cursor name_end = at;
  for (; !word.empty(); word = word_at(name_end + 1)) {
    name_end = word.data() + word.size();
    if (name_end == end() || *name_end != '.') break;
  }
  return took_name(at, static_cast<std::size_t>(name_end - at), name);
}

bool Reading::take_position(Cursor& at, Name& name) {
  return take_name(at, name) || take_lone_position(at, name);
}

bool Reading::take_lone_position(Cursor& at, Name& name) {
  return contains(position_words, word_at(at)) && take_any_word(at, name);
}

bool Reading::take_any_word(Cursor& at, Name& name) {
  const std::string_view word = word_at(at);
  return !word.empty() && took_name(at, word.size(), name);
}

bool Reading::take_edge_rule(Cursor& at, Name& name) {
  const std::string_view word = word_at(at);
  const bool known = word == "counted" || word == "ignored" || word == "either";
  return known && took_name(at, word.size(), name);
}

bool Reading::take_text(Cursor& at, std::string& text) {
  if (at == end() || *at != '"') return false;
  const Cursor line_end = end_of_line(at, end());
  const Cursor close = std::find(at + 1, line_end, '"');
  if (close == line_end) throw unclosed_text(at);
  text.assign(at + 1, close);
  return took(at, close + 1);
}

void Reading::report(Diagnostic diagnostic) {
  if (reported_.size() + 1 < most_diagnostics) {
    reported_.push_back(std::move(diagnostic));
    return;
  }
  reported_.push_back({Code::syntax, diagnostic.place, "there are more mistakes; reading stops at this one",
                       "mend those above first"});
  throw Enough{};
}

Place Reading::place(Cursor begin, Cursor end) const {
  return {file_, static_cast<std::uint32_t>(begin - text_.data()),
          static_cast<std::uint32_t>(end - text_.data())};
}

void Reading::enter(Cursor at) {
  if (++depth_ <= deepest_nesting) return;
  throw Mistake{{Code::nested_too_deeply, place(at, at + std::max<std::size_t>(1, token_at(at).size())),
                 fmt::format("this is nested more than {} deep", deepest_nesting),
                 "give a name to a part of the expression with 'signal'"}};
}

}  // namespace detent::dsl::grammar

namespace detent::dsl {

std::size_t longest_segment(std::string_view name) {
  std::size_t longest = 0;
  for (std::size_t begin = 0; begin <= name.size();) {
    const std::size_t end = std::min(name.find('.', begin), name.size());
    longest = std::max(longest, end - begin);
    begin = end + 1;
  }
  return longest;
}

}  // namespace detent::dsl
