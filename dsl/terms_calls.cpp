// Calls: rises falls changes previous held recently since below above min max abs hand.
#include <fmt/format.h>

#include <utility>

#include "dsl/durations.hpp"
#include "dsl/terms.hpp"
#include "dsl/text.hpp"

namespace detent::dsl {

bool TermChecker::argument_count(const Expr& expr, std::size_t least, std::size_t most,
                                 const std::string& form) {
  const std::size_t count = expr.operands.size();
  if (count >= least && count <= most) {
    return true;
  }
  context_.report(Code::wrong_arguments, expr.place,
                  fmt::format("'{}' does not go with {} argument{}", expr.text, count, count == 1 ? "" : "s"),
                  "write " + form);
  return false;
}

std::optional<Term> TermChecker::call(const Expr& expr, const Scope& scope) {
  constexpr std::size_t any_number = 1'000'000'000;
  const std::string& name = expr.text;
  if (name == "rises" || name == "falls") {
    if (!argument_count(expr, 1, 1, name + "(condition)")) {
      return std::nullopt;
    }
    auto operand = condition(expr.operands[0], scope);
    if (operand && name == "falls") {
      operand = make_not(std::move(*operand), expr.place);
    }
    return operand ? std::optional(make_condition(TermOp::rises, {std::move(*operand)}, expr.place))
                   : std::nullopt;
  }
  if (name == "changes") {
    return argument_count(expr, 1, 1, "changes(value)") ? changes(expr, scope) : std::nullopt;
  }
  if (name == "previous") {
    return argument_count(expr, 1, 2, "previous(value, starting VALUE)") ? previous(expr, scope)
                                                                         : std::nullopt;
  }
  if (name == "held" || name == "recently") {
    return argument_count(expr, 2, 2, name + "(condition, time)")
               ? timed(expr, scope, name == "held" ? TermOp::held : TermOp::recently)
               : std::nullopt;
  }
  if (name == "since") {
    if (!argument_count(expr, 2, 2, "since(condition, event)")) {
      return std::nullopt;
    }
    auto operands = conditions(expr, scope);
    return operands ? std::optional(make_condition(TermOp::since, std::move(*operands), expr.place))
                    : std::nullopt;
  }
  if (name == "below" || name == "above") {
    return argument_count(expr, 3, 3, name + "(level, LEVEL, until LEVEL)")
               ? hysteresis(expr, scope, name == "below")
               : std::nullopt;
  }
  if (name == "min" || name == "max") {
    return argument_count(expr, 2, any_number, name + "(level, level)")
               ? extreme(expr, scope, name == "min" ? TermOp::minimum : TermOp::maximum)
               : std::nullopt;
  }
  if (name == "abs") {
    return argument_count(expr, 1, 1, "abs(level)") ? absolute(expr, scope) : std::nullopt;
  }
  if (name == "hand") {
    return argument_count(expr, 1, 1, "hand(input)") ? hand(expr, scope) : std::nullopt;
  }
  context_.report(Code::unknown_name, expr.place, fmt::format("there is no function called '{}'", name),
                  "use one of: rises, falls, changes, previous, held, recently, since, below, above, min, "
                  "max, abs, hand");
  return std::nullopt;
}

std::optional<Term> TermChecker::extreme(const Expr& expr, const Scope& scope, TermOp op) {
  std::vector<Term> terms;
  for (const Expr& operand : expr.operands) {
    auto next = level(operand, scope);
    if (!next || (!terms.empty() && !pair_up(terms.front(), *next, expr.place))) {
      return std::nullopt;
    }
    terms.push_back(std::move(*next));
  }
  const Type type = terms.front().type;  // with the most decimals of all
  for (Term& term : terms) {
    align_to(term, type.decimals);
  }
  return join_all(std::move(terms), [&](std::vector<Term> pair) {
    return Term{.op = op, .type = type, .place = expr.place, .operands = std::move(pair)};
  });
}

std::optional<Term> TermChecker::absolute(const Expr& expr, const Scope& scope) {
  auto value = level(expr.operands[0], scope);
  if (!value) {
    return std::nullopt;
  }
  const Type type = value->type;
  return Term{.op = TermOp::absolute, .type = type, .place = expr.place, .operands = {std::move(*value)}};
}

std::optional<Term> TermChecker::changes(const Expr& expr, const Scope& scope) {
  auto value = term(expr.operands[0], scope);
  return value ? std::optional(make_condition(TermOp::changes, {std::move(*value)}, expr.place))
               : std::nullopt;
}

std::optional<Term> TermChecker::previous(const Expr& expr, const Scope& scope) {
  const Expr& subject = expr.operands[0];
  const bool has_start = expr.operands.size() == 2;
  const Bound* bound = subject.op == Op::name ? find(scope, subject.text) : nullptr;
  const auto* element = bound == nullptr ? nullptr : std::get_if<ElementBinding>(&bound->binding);
  const bool open = element != nullptr && !facts[element->index].type && !facts[element->index].failed;
  std::optional<Term> value;
  if (open) {
    // A loop through this `previous`: its starting value says the type; without one it is a condition.
    auto start = has_start ? term(expr.operands[1], scope) : std::optional(make_truth(false, expr.place));
    if (!start) {
      return std::nullopt;
    }
    assumed.push_back({expr.place, element->index, start->type});
    value =
        Term{.op = TermOp::reference, .type = start->type, .place = subject.place, .element = element->index};
  } else {
    value = term(subject, scope);
  }
  if (!value) {
    return std::nullopt;
  }
  if (!has_start && value->type.kind != SortKind::condition) {
    context_.report(Code::wrong_arguments, expr.place, "before tick 0 there was no value to remember",
                    fmt::format("say what to start with: previous({}, starting {})",
                                one_line(context_.sources.text(subject.place)),
                                value->type.kind == SortKind::position
                                    ? facts[value->type.owner].positions.front()
                                    : "0" + (value->type.unit.empty() ? "" : " " + value->type.unit)));
    return std::nullopt;
  }
  std::optional<Value> start = 0;
  Type type = value->type;
  if (has_start) {
    if (type.kind == SortKind::level) {  // the starting value may have more decimals than what it starts
      const auto given = level(expr.operands[1], scope);
      align_to(*value, given ? given->type.decimals : 0);
      type = value->type;
    }
    start = constant_of(expr.operands[1], scope, type);
  }
  if (!start) {
    return std::nullopt;
  }
  return Term{.op = TermOp::previous,
              .type = type,
              .place = expr.place,
              .value = *start,
              .operands = {std::move(*value)}};
}

std::optional<Term> TermChecker::timed(const Expr& expr, const Scope& scope, TermOp op) {
  auto operand = condition(expr.operands[0], scope);
  const auto ticks = ticks_of(expr.operands[1], scope, 1, context_);
  if (!operand || !ticks) {
    return std::nullopt;
  }
  return make_condition(op, {std::move(*operand)}, expr.place, *ticks);
}

std::optional<Term> TermChecker::hysteresis(const Expr& expr, const Scope& scope, bool below) {
  auto value = level(expr.operands[0], scope);
  auto on = constant_level(expr.operands[1], scope);
  auto off = constant_level(expr.operands[2], scope);
  if (!value || !on || !off || !pair_up(*on, *off, expr.place)) {
    return std::nullopt;
  }
  if (below ? on->value > off->value : on->value < off->value) {
    context_.report(Code::bad_range, expr.place,
                    fmt::format("'{}' would be on and off at once between its two levels", expr.text),
                    fmt::format("the level behind 'until' must be the {} one", below ? "higher" : "lower"));
    return std::nullopt;
  }
  if (same_kind(value->type, on->type)) {
    check_within_channel(*value, *on, false);
    check_within_channel(*value, *off, false);
  }
  if (!pair_up(*value, *on, expr.place) || !pair_up(*value, *off, expr.place) ||
      !pair_up(*value, *on, expr.place)) {
    return std::nullopt;
  }
  return make_condition(TermOp::hysteresis, {std::move(*value), std::move(*on), std::move(*off)}, expr.place,
                        below ? 1 : 0);
}

std::optional<Term> TermChecker::hand(const Expr& expr, const Scope& scope) {
  auto value = term(expr.operands[0], scope);
  if (!value) {
    return std::nullopt;
  }
  const std::string keyword = value->op == TermOp::reference ? facts[value->element].keyword : "";
  if (keyword != "channel" && keyword != "switch" && keyword != "button") {
    context_.report(Code::wrong_type, expr.operands[0].place, "only inputs are moved by a hand",
                    "name a channel, a switch or a button");
    return std::nullopt;
  }
  value->op = TermOp::hand;
  value->place = expr.place;
  return value;
}

}  // namespace detent::dsl
