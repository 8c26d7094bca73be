// Tokens of the language, taken by hand: names, numbers with units, strings, words, marks and operators.
#include "dsl/grammar/reading.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstring>

#include "dsl/grammar.hpp"
#include "dsl/grammar/words.hpp"

namespace detent::dsl::grammar {
namespace {

bool is_digit(char byte) {
  return byte >= '0' && byte <= '9';
}
bool begins_word(char byte) {
  return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') || byte == '_';
}
bool is_word_character(char byte) {
  return begins_word(byte) || is_digit(byte);
}
bool is_blank(char byte) {
  return byte == ' ' || byte == '\t';
}

/// Whatever is not printable ASCII counts as white space: where it is not permitted, characters.cpp has
/// said so already, and reading goes on as if it were not there.
bool is_white(char byte) {
  return byte <= ' ' || byte > '~';
}

/// Of a dotted name each segment is a name.
std::size_t longest_segment(std::string_view name) {
  std::size_t longest = 0;
  for (std::size_t begin = 0; begin <= name.size();) {
    const std::size_t end = std::min(name.find('.', begin), name.size());
    longest = std::max(longest, end - begin);
    begin = end + 1;
  }
  return longest;
}

Cursor end_of_line(Cursor at, Cursor end) {
  const void* found = std::memchr(at, '\n', static_cast<std::size_t>(end - at));
  return found == nullptr ? end : static_cast<Cursor>(found);
}

// Longer spellings first.
constexpr Comparator comparators[] = {
    {"==", Op::equal, "=="},      {"!=", Op::unequal, "!="},
    {"<=", Op::less_equal, "<="}, {">=", Op::greater_equal, ">="},
    {"<>", Op::unequal, "!="},    {"=<", Op::less_equal, "<="},
    {"<", Op::less, "<"},         {">", Op::greater, ">"},
    {"=", Op::equal, "=="},
};

struct ForeignOperator {
  std::string_view spelling;
  std::string_view word;
};
constexpr ForeignOperator foreign_operators[] = {
    {"&&", "and"}, {"&", "and"}, {"||", "or"}, {"|", "or"}, {"^", "xor"}, {"=>", "implies"}, {"!", "not"},
};

constexpr std::string_view long_marks[] = {"->", "=>", "==", "!=", "<=", ">=", "<>", "&&", "||"};

constexpr std::size_t most_diagnostics = 50;
constexpr std::size_t most_digits_before_point = 12;
constexpr std::size_t most_digits_after_point = 6;

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

std::string_view Reading::word_at(Cursor at) const {
  if (at == end() || !begins_word(*at)) return {};
  return {at, static_cast<std::size_t>(std::find_if_not(at, end(), is_word_character) - at)};
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

bool Reading::take_quantity(Cursor& at, Expr& quantity) {
  if (at == end() || !is_digit(*at)) return false;
  const Cursor begin = at;
  const Cursor point = std::find_if_not(begin, end(), is_digit);
  Cursor number_end = point;
  if (end() - point > 1 && *point == '.' && is_digit(point[1])) {
    number_end = std::find_if_not(point + 1, end(), is_digit);
  }
  quantity.op = Op::quantity;
  quantity.number = {};
  quantity.place = place(begin, number_end);
  const auto decimals = static_cast<std::size_t>(number_end == point ? 0 : number_end - point - 1);
  if (static_cast<std::size_t>(point - begin) > most_digits_before_point ||
      decimals > most_digits_after_point) {
    report_number(quantity);
  } else {
    for (const char byte : std::string_view(begin, number_end)) {
      if (byte != '.') quantity.number.digits = quantity.number.digits * 10 + (byte - '0');
    }
    quantity.number.decimals = static_cast<int>(decimals);
  }
  took(at, number_end);
  take_unit(at, quantity);
  return true;
}

void Reading::report_number(const Expr& quantity) {
  report({Code::bad_number, quantity.place,
          fmt::format("a number has at most {} digits before the point and {} after it",
                      most_digits_before_point, most_digits_after_point),
          "write a shorter number, or choose a larger unit"});
}

/// A unit stands behind its number on the same line: a word that is not reserved, or `%`. Of the reserved
/// words `min` is a unit, and so is `tick` unless it begins the declaration `tick 20 ms`.
bool Reading::takes_unit(Cursor at, std::string_view word) const {
  if (word == "min") return true;
  if (word == "tick") {
    const Cursor next = after_white(at + word.size());
    return next == end() || !is_digit(*next);
  }
  return !word.empty() && word != "per" && !is_reserved(word);
}

void Reading::take_unit(Cursor& at, Expr& quantity) {
  const Cursor unit = std::find_if_not(last_end_, end(), is_blank);
  if (unit != at || at == end()) return;
  const std::string_view word = word_at(at);
  const std::size_t size = *at == '%' ? 1 : takes_unit(at, word) ? word.size() : 0;
  if (size == 0) return;
  quantity.text.assign(at, size);
  const Cursor number = begin() + quantity.place.begin;
  took(at, at + size);
  last_begin_ = number;
  quantity.place = place(number, last_end_);
}

std::optional<Comparator> Reading::comparator_at(std::string_view text) {
  if (text.starts_with("=>")) return {};
  for (const Comparator& comparator : comparators) {
    if (text.starts_with(comparator.spelling)) return comparator;
  }
  return {};
}

std::optional<Op> Reading::take_comparator(Cursor& at) {
  const auto comparator = comparator_at(rest(at));
  if (!comparator) return {};
  took(at, at + comparator->spelling.size());
  if (comparator->spelling != comparator->meant) {
    report({Code::syntax, last_token(), fmt::format("'{}' is not a comparison", comparator->spelling),
            fmt::format("write '{}'", comparator->meant)});
  }
  return comparator->op;
}

bool Reading::take_operator(Cursor& at, std::string_view word) {
  if (take_word(at, word)) return true;
  for (const ForeignOperator& foreign : foreign_operators) {
    if (foreign.word != word || !rest(at).starts_with(foreign.spelling)) continue;
    if (word == "not" && rest(at).starts_with("!=")) return false;
    took(at, at + foreign.spelling.size());
    report({Code::syntax, last_token(), fmt::format("'{}' is not an operator", foreign.spelling),
            fmt::format("write '{}'", word)});
    return true;
  }
  return false;
}

bool Reading::take_gets(Cursor& at) {
  if (take_mark(at, "==")) {
    report(
        {Code::syntax, last_token(), "'==' compares two values; a name gets its value by '='", "write '='"});
    return true;
  }
  return take_mark(at, "=");
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

bool is_reserved(std::string_view word) {
  return contains(declaration_words, word) || contains(call_words, word) || contains(inner_words, word);
}

}  // namespace detent::dsl::grammar
