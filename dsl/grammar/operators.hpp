// The X3 parsers for the ladder of operators: each reads its operands and joins them into one Expr.
// They hold one C++ frame a step, so that the deepest permitted nesting fits the smallest usual stack.
#pragma once

#include "dsl/grammar/parsers.hpp"

namespace detent::dsl::grammar {

/// Base of parsers that make an Expr.
template <class Derived>
struct ExprParser : x3::parser<Derived> {
  using attribute_type = Expr;
  static constexpr bool has_attribute = true;
};

inline Expr make_expr(Op op, Place place) {
  Expr made;
  made.op = op;
  made.place = place;
  return made;
}

inline Expr wrap(Op op, Place place, Expr operand) {
  Expr made = make_expr(op, place);
  made.operands.push_back(std::move(operand));
  return made;
}

/// a op b op c …: one Expr with all operands. One operand alone stays as it is.
template <class Operand, class Separator>
struct Joined : ExprParser<Joined<Operand, Separator>> {
  Operand operand;
  Separator separator;
  Op op;
  std::string_view what;
  Joined(Operand each, Separator spelled, Op meaning, std::string_view words)
      : operand(each), separator(spelled), op(meaning), what(words) {}
  template <class AnyContext, class RuleContext>
  bool parse(Cursor& first, const Cursor& last, const AnyContext& context, RuleContext& rule,
             Expr& whole) const {
    const Cursor begin = first;
    if (!operand.parse(first, last, context, rule, whole)) return false;
    if (!separator.parse(first, last, context, rule, x3::unused)) return true;
    whole = wrap(op, {}, std::move(whole));
    do {
      Expr& next = whole.operands.emplace_back();
      if (!operand.parse(first, last, context, rule, next)) throw reading(context).expected(first, what);
    } while (separator.parse(first, last, context, rule, x3::unused));
    whole.place = reading(context).place_from(begin);
    return true;
  }
};

/// a + b - c …: subtraction adds the negative, which begins at its sign.
template <class Operand>
struct Summed : ExprParser<Summed<Operand>> {
  Operand operand;
  explicit Summed(Operand each) : operand(each) {}
  template <class AnyContext, class RuleContext>
  bool parse(Cursor& first, const Cursor& last, const AnyContext& context, RuleContext& rule,
             Expr& whole) const {
    Reading& reader = reading(context);
    const Cursor begin = first;
    if (!operand.parse(first, last, context, rule, whole)) return false;
    bool joined = false;
    for (Cursor sign = first; reader.take_mark(first, "+") || reader.take_mark(first, "-"); sign = first) {
      if (!joined) whole = wrap(Op::add, {}, std::move(whole));
      joined = true;
      Expr& next = whole.operands.emplace_back();
      if (!operand.parse(first, last, context, rule, next)) throw reader.expected(first, "a value");
      if (*sign == '-') next = wrap(Op::negate, reader.place_from(sign), std::move(next));
    }
    if (joined) whole.place = reader.place_from(begin);
    return true;
  }
};

/// a implies (b implies (c …)): a level of nesting for each, since the tree is as deep.
template <class Operand>
struct RightJoined : ExprParser<RightJoined<Operand>> {
  Operand operand;
  explicit RightJoined(Operand each) : operand(each) {}
  template <class AnyContext, class RuleContext>
  bool parse(Cursor& first, const Cursor& last, const AnyContext& context, RuleContext& rule,
             Expr& whole) const {
    Reading& reader = reading(context);
    if (!operand.parse(first, last, context, rule, whole)) return false;
    std::vector<Expr> links;
    for (Cursor sign = first; reader.take_operator(first, "implies"); sign = first) {
      reader.enter(sign);
      links.push_back(std::move(whole));
      whole = Expr{};
      if (!operand.parse(first, last, context, rule, whole)) throw reader.expected(first, "a condition");
    }
    reader.leave(static_cast<int>(links.size()));
    for (; !links.empty(); links.pop_back()) {
      Place place = links.back().place;
      place.end = reader.last_token().end;
      Expr link = wrap(Op::implies, place, std::move(links.back()));
      link.operands.push_back(std::move(whole));
      whole = std::move(link);
    }
    return true;
  }
};

/// Any number of one sign before the operand: not not a, - - a.
template <class Operand, class Sign>
struct Prefixed : ExprParser<Prefixed<Operand, Sign>> {
  Operand operand;
  Sign sign;
  Op op;
  std::string_view what;
  Prefixed(Sign spelled, Op meaning, Operand only, std::string_view words)
      : operand(only), sign(spelled), op(meaning), what(words) {}
  template <class AnyContext, class RuleContext>
  bool parse(Cursor& first, const Cursor& last, const AnyContext& context, RuleContext& rule,
             Expr& whole) const {
    Reading& reader = reading(context);
    std::vector<Cursor> signs;
    for (Cursor at = first; sign.parse(first, last, context, rule, x3::unused); at = first) {
      reader.enter(at);
      signs.push_back(at);
    }
    if (!operand.parse(first, last, context, rule, whole)) {
      if (signs.empty()) return false;
      throw reader.expected(first, what);
    }
    reader.leave(static_cast<int>(signs.size()));
    for (; !signs.empty(); signs.pop_back())
      whole = wrap(op, reader.place_from(signs.back()), std::move(whole));
    return true;
  }
};

/// a < b, a is position, a is not position, or a alone. A second comparison is a mistake.
template <class Operand>
struct Compared : ExprParser<Compared<Operand>> {
  Operand operand;
  explicit Compared(Operand each) : operand(each) {}
  template <class AnyContext, class RuleContext>
  bool parse(Cursor& first, const Cursor& last, const AnyContext& context, RuleContext& rule,
             Expr& whole) const {
    Reading& reader = reading(context);
    const Cursor begin = first;
    if (!operand.parse(first, last, context, rule, whole)) return false;
    if (reader.take_word(first, "is")) {
      whole = wrap(reader.take_word(first, "not") ? Op::is_not : Op::is, {}, std::move(whole));
      Name which;
      if (!reader.take_position(first, which)) throw reader.expected(first, "the name of a position");
      whole.text = std::move(which.text);
    } else if (const auto op = reader.take_comparator(first)) {
      whole = wrap(*op, {}, std::move(whole));
      Expr& right = whole.operands.emplace_back();
      if (!operand.parse(first, last, context, rule, right)) throw reader.expected(first, "a value");
    } else {
      return true;
    }
    whole.place = reader.place_from(begin);
    reader.refuse_chain(first, whole);
    return true;
  }
};

/// A duration: a sum. A unit that stands for it alone is looked at when all names are known.
template <class Operand>
struct Timed : ExprParser<Timed<Operand>> {
  Operand operand;
  explicit Timed(Operand only) : operand(only) {}
  template <class AnyContext, class RuleContext>
  bool parse(Cursor& first, const Cursor& last, const AnyContext& context, RuleContext& rule,
             Expr& whole) const {
    if (!operand.parse(first, last, context, rule, whole)) return false;
    reading(context).suspect_unit(whole);
    return true;
  }
};

}  // namespace detent::dsl::grammar
