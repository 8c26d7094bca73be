// Numbers of a text, kept exactly as written, and the units behind them.
#include <fmt/format.h>

#include <algorithm>

#include "dsl/grammar/bytes.hpp"
#include "dsl/grammar/reading.hpp"
#include "dsl/grammar/words.hpp"

namespace detent::dsl::grammar {
namespace {

constexpr std::size_t most_digits_before_point = 12;
constexpr std::size_t most_digits_after_point = 6;

}  // namespace

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

}  // namespace detent::dsl::grammar
