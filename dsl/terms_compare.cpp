// Comparisons: of levels, of anything that can be equal, and with a position.
#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "dsl/decimals.hpp"
#include "dsl/position_word.hpp"
#include "dsl/terms.hpp"
#include "dsl/text.hpp"

namespace detent::dsl {
bool TermChecker::pair_up(Term& one, Term& other, const Place& place) {
  if (!same_kind(one.type, other.type)) {
    const bool units = one.type.kind == SortKind::level && other.type.kind == SortKind::level;
    context_.report(
        units ? Code::wrong_unit : Code::wrong_type, place,
        fmt::format("these two do not go together: {} and {}", describe(one.type), describe(other.type)),
        units ? "give both the same unit; units are never converted" : "use two of the same kind");
    return false;
  }
  align(one, other);
  return true;
}

// A comparison of a channel with a level it can never have is a slip of the pen.
void TermChecker::check_within_channel(const Term& term, const Term& constant, bool is_equality) {
  const bool channel =
      (term.op == TermOp::reference || term.op == TermOp::hand) && facts[term.element].channel;
  if (!channel || !is_constant(constant)) {
    return;
  }
  const Range& range = *facts[term.element].channel;
  const int more = constant.type.decimals - facts[term.element].type->decimals;
  const Value scale = power_of_ten(std::max(more, 0));
  if (constant.value < range.low * scale || constant.value > range.high * scale) {
    Sort sort{
        .kind = SortKind::level, .unit = term.type.unit, .decimals = facts[term.element].type->decimals};
    context_.report(Code::out_of_range, constant.place,
                    fmt::format("'{}' only goes from {} to {}", collected_.elements[term.element].name,
                                to_text(range.low, sort), to_text(range.high, sort)),
                    "use a level between the two",
                    {{collected_.elements[term.element].place, "declared here"}});
  } else if (is_equality && more > 0 && constant.value % scale != 0) {
    context_.report(Code::not_whole_steps, constant.place,
                    fmt::format("'{}' never has this level: it moves in coarser steps",
                                collected_.elements[term.element].name),
                    "use a level that it can have, or compare with <= or >=");
  } else if (is_equality) {
    warn_between_steps(term, constant);
  }
}

// The levels on either side are both the channel's: its ends are on its steps.
void TermChecker::warn_between_steps(const Term& term, const Term& constant) {
  const ElementFacts& channel = facts[term.element];
  const Type& type = *channel.type;
  const auto said = [&](Value value) {
    return to_text(value, Sort{.kind = SortKind::level, .unit = type.unit, .decimals = type.decimals});
  };
  // Here the constant has no more decimals than the channel, or zeros in them.
  const int more = constant.type.decimals - type.decimals;
  const Value level = more > 0 ? constant.value / power_of_ten(more) : constant.value * power_of_ten(-more);
  const Value rest = (level - channel.channel->low) % channel.step;
  if (rest == 0) {
    return;
  }
  const std::string& name = collected_.elements[term.element].name;
  context_.report(Code::never_equal, constant.place,
                  fmt::format("'{}' never is {}: it goes from {} on in steps of {}", name, said(level),
                              said(channel.channel->low), said(channel.step)),
                  fmt::format("its nearest levels are {} and {}; or compare with <= or >=",
                              said(level - rest), said(level - rest + channel.step)),
                  {{collected_.elements[term.element].place, "declared here"}});
}

std::optional<Term> TermChecker::comparison(const Expr& expr, const Scope& scope) {
  auto left = level(expr.operands[0], scope);
  auto right = level(expr.operands[1], scope);
  if (!left || !right) {
    return std::nullopt;
  }
  if (!same_kind(left->type, right->type)) {
    pair_up(*left, *right, expr.place);
    return std::nullopt;
  }
  check_within_channel(*left, *right, false);
  check_within_channel(*right, *left, false);
  align(*left, *right);
  const bool turned = expr.op == Op::greater_equal || expr.op == Op::less;
  const bool negated = expr.op == Op::less || expr.op == Op::greater;
  std::vector<Term> operands{turned ? std::move(*right) : std::move(*left),
                             turned ? std::move(*left) : std::move(*right)};
  Term result = make_condition(TermOp::less_equal, std::move(operands), expr.place);
  return negated ? make_not(std::move(result), expr.place) : std::move(result);
}

std::optional<Term> TermChecker::equality(const Expr& expr, const Scope& scope) {
  auto left = term(expr.operands[0], scope);
  auto right = term(expr.operands[1], scope, left ? &left->type : nullptr);
  if (!left || !right) {
    return std::nullopt;
  }
  if (same_kind(left->type, right->type)) {
    check_within_channel(*left, *right, true);
    check_within_channel(*right, *left, true);
  }
  if (!pair_up(*left, *right, expr.place)) {
    return std::nullopt;
  }
  Term result = make_condition(TermOp::equal, {std::move(*left), std::move(*right)}, expr.place);
  return expr.op == Op::unequal ? make_not(std::move(result), expr.place) : std::move(result);
}

// `guard is run`, `arming is primed`, `radio is lost`, `stop is pressed`.
std::optional<Term> TermChecker::is_position(const Expr& expr, const Scope& scope) {
  const Expr& subject = expr.operands[0];
  const Bound* bound = subject.op == Op::name ? find(scope, subject.text) : nullptr;
  const auto* element = bound == nullptr ? nullptr : std::get_if<ElementBinding>(&bound->binding);
  const std::string keyword = element == nullptr ? "" : facts[element->index].keyword;
  std::optional<Term> result;
  if (keyword == "link" || keyword == "button") {
    const std::string on = keyword == "link" ? "lost" : "pressed";
    const bool off = keyword == "button" && expr.text == "released";
    if (expr.text != on && !off) {
      context_.report(
          Code::unknown_position, place_of_position(expr, context_.sources),
          fmt::format("a {} can't be '{}'", keyword, expr.text),
          keyword == "link" ? "write 'is lost' or 'is not lost'" : "write 'is pressed' or 'is released'");
      return std::nullopt;
    }
    if (!facts[element->index].type) {
      return std::nullopt;
    }
    result = Term{.op = keyword == "link" ? TermOp::lost : TermOp::reference,
                  .type = {},
                  .place = expr.place,
                  .element = element->index};
    result = off ? make_not(std::move(*result), expr.place) : std::move(result);
  } else {
    auto value = term(subject, scope);
    if (!value) {
      return std::nullopt;
    }
    if (value->type.kind != SortKind::position) {
      context_.report(Code::wrong_type, subject.place,
                      fmt::format("'is' asks for a position of a switch or a stage, but this is {}",
                                  describe(value->type)),
                      value->type.kind == SortKind::level ? "compare it with == or <="
                                                          : "leave 'is' out, or write 'not' before it");
      return std::nullopt;
    }
    const Value index = position(expr.text, place_of_position(expr, context_.sources), value->type);
    if (index < 0) {
      return std::nullopt;
    }
    Term wanted{.op = TermOp::constant, .type = value->type, .place = expr.place, .value = index};
    result = make_condition(TermOp::equal, {std::move(*value), std::move(wanted)}, expr.place);
  }
  return expr.op == Op::is_not ? make_not(std::move(*result), expr.place) : std::move(result);
}

}  // namespace detent::dsl
