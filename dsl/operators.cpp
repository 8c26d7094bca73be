// Operators: as the language writes them, and, with a message, as other notations do.
#include <fmt/format.h>

#include "dsl/grammar/reading.hpp"

namespace detent::dsl::grammar {
namespace {

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

}  // namespace

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

}  // namespace detent::dsl::grammar
