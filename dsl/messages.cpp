// What the reader says where the text is not as it should be: what was expected, after what, and what stands
// there instead, in the user's own words; then a mend, where the mistake is a known one.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <iterator>

#include "dsl/grammar/reading.hpp"
#include "dsl/grammar/words.hpp"

namespace detent::dsl::grammar {
namespace {

constexpr std::size_t longest_quotation = 40;

std::vector<std::string> names_of(const auto& words) {
  return {words.begin(), words.end()};
}

std::string did_you_mean(const std::string& nearest) {
  return nearest.empty() ? "" : fmt::format("did you mean '{}'?", nearest);
}

/// The words in quotes that `what` asks for: "'from' and the lowest level" asks for from.
std::vector<std::string> words_asked_for(std::string_view what) {
  std::vector<std::string> words;
  for (std::size_t open = what.find('\''); open != what.npos;) {
    const std::size_t close = what.find('\'', open + 1);
    if (close == what.npos) break;
    words.emplace_back(what.substr(open + 1, close - open - 1));
    open = what.find('\'', close + 1);
  }
  return words;
}

constexpr auto joining_words = std::to_array<std::string_view>({"and", "or", "xor", "implies", "is"});

constexpr std::string_view time_units[] = {"us", "ms", "s", "min", "h", "tick", "ticks"};
bool is_time_unit(std::string_view word) {
  return std::find(std::begin(time_units), std::end(time_units), word) != std::end(time_units);
}

std::string unit_mend(std::string_view unit) {
  return fmt::format("a unit stands behind a number, as in '8 {}'", unit);
}

}  // namespace

std::string quoted(std::string_view text) {
  if (text.size() <= longest_quotation) return fmt::format("'{}'", text);
  std::size_t size = longest_quotation;
  while (size > 0 && (static_cast<unsigned char>(text[size]) & 0xC0U) == 0x80U) --size;
  return fmt::format("'{}…'", text.substr(0, size));
}

/// The token that surprises, or, if it stands on a later line, the end of the last token before it.
Place Reading::place_of_surprise(Cursor at) const {
  const std::string_view token = token_at(at);
  if (token.empty() || !same_line_as_last(at)) return place(last_end_, last_end_);
  return place(at, at + token.size());
}

std::string_view Reading::text_of(const Place& place) const {
  return text_.substr(place.begin, place.end - place.begin);
}

std::string Reading::surprise(Cursor at, std::string_view what) const {
  const std::string_view token = token_at(at);
  const std::string_view last = text_of(last_token());
  std::string message = fmt::format("expected {}", what);
  if (!last.empty()) message += fmt::format(" after {}", quoted(last));
  if (token.empty()) return message + ", but the text ends here";
  return same_line_as_last(at) ? message + fmt::format(", not {}", quoted(token)) : message;
}

std::string Reading::mend_for(Cursor at, std::string_view what) const {
  const std::string_view token = token_at(at);
  if (what == "'('" && text_of(last_token()) == "min") return unit_mend("min");
  if (token == "%" || is_time_unit(token)) {
    return unit_mend(token);
  }
  if (what.starts_with("':' and what is claimed"))
    return "a colon stands before what is claimed, as in 'claim safe: always not live'";
  if (token == "/") return "there is no division; multiply by a decimal fraction, as in '0.5 * x'";
  if (token == "=>") return "write 'implies', or '>=' for a comparison";
  if (token == ".") return "write a digit on both sides of the point, as in '0.5'";
  if (const std::string near = nearest_name(token, words_asked_for(what)); !near.empty()) {
    return did_you_mean(near);
  }
  if (!what.starts_with("a ") || !is_reserved(token) || !same_line_as_last(at)) return {};
  if (contains(joining_words, token)) return fmt::format("'{}' stands between two values", token);
  return fmt::format("'{}' is a word of the language and cannot be a name", token);
}

Mistake Reading::unclosed_text(Cursor at) const {
  const std::string_view line = rest(at).substr(0, rest(at).find_first_of("\r\n"));
  return {{Code::syntax, place(at, at + line.size()), "this text in quotes is not closed on its line",
           "end it with a second '\"'"}};
}

Mistake Reading::expected(Cursor at, std::string_view what) const {
  if (token_at(at) == "\"") return unclosed_text(at);
  return {{Code::syntax, place_of_surprise(at), surprise(at, what), mend_for(at, what)}};
}

Mistake Reading::expected_name(Cursor at, std::string_view what) const {
  const std::string_view word = word_at(at);
  if (!is_reserved(word) || !same_line_as_last(at)) return expected(at, what);
  return {{Code::reserved_word, place_of_surprise(at),
           fmt::format("'{}' is a word of the language and cannot be a name", word),
           fmt::format("choose another name, such as 'my_{}'", word)}};
}

Mistake Reading::no_declaration(Cursor at) const {
  const std::string_view token = token_at(at);
  const Place here = place(at, at + token.size());
  if (!first_on_line(at)) {
    Mistake mistake = expected(at, "an operator or the next declaration");
    if (mistake.diagnostic.mend.empty()) {
      mistake.diagnostic.mend = did_you_mean(nearest_name(token, names_of(inner_words)));
    }
    return mistake;
  }
  if (word_at(at).empty()) {
    return {{Code::syntax, here, fmt::format("no declaration begins with {}", quoted(token)),
             "a declaration begins with a word such as 'signal', 'pulse' or 'claim'"}};
  }
  if (is_reserved(token)) {
    return {{Code::syntax, here, fmt::format("'{}' belongs inside a declaration and begins none", token),
             "a declaration begins with a word such as 'signal', 'pulse' or 'claim'"}};
  }
  const std::string near = nearest_name(token, names_of(declaration_words));
  return {{Code::syntax, here, fmt::format("no declaration is called {}", quoted(token)),
           near.empty() ? "a declaration begins with a word such as 'signal', 'pulse' or 'claim'"
                        : did_you_mean(near)}};
}

void Reading::refuse_call(Cursor at) const {
  if (at == end() || *at != '(') return;
  const Place called = last_token();
  const std::string_view word = text_of(called);
  const std::string near = nearest_name(word, names_of(call_words));
  throw Mistake{
      {Code::syntax, called, fmt::format("nothing that can be called has the name {}", quoted(word)),
       near.empty() ? "a part is brought in with 'use', as in 'use g = guard(thrust)'" : did_you_mean(near)}};
}

void Reading::refuse_chain(Cursor at, const Expr& compared) const {
  const std::string_view is = word_at(at) == "is" ? word_at(at) : std::string_view{};
  const auto second = comparator_at(rest(at));
  if (is.empty() && !second) return;
  std::string mend = "write two comparisons with 'and' between them";
  const std::string_view both = text_of(compared.place);
  if (second && compared.operands.size() == 2 && both.size() <= longest_quotation) {
    mend =
        fmt::format("write '{} and {} {} …'", both, text_of(compared.operands.back().place), second->meant);
  }
  const std::size_t size = second ? second->spelling.size() : is.size();
  throw Mistake{{Code::syntax, place(at, at + size), "one comparison cannot follow another", mend}};
}

void Reading::suspect_unit(const Expr& duration) {
  constexpr std::size_t most_lone_units = 50;
  if (duration.op == Op::name && is_time_unit(duration.text) && lone_units_.size() < most_lone_units) {
    lone_units_.push_back({duration.text, duration.place});
  }
}

}  // namespace detent::dsl::grammar
