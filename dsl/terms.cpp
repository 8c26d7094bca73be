// Expressions other than comparisons and calls: truth, numbers, names, gates, arithmetic, choices.
#include "dsl/terms.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "dsl/decimals.hpp"
#include "dsl/durations.hpp"
#include "dsl/limits.hpp"
#include "dsl/text.hpp"

namespace detent::dsl {
void TermChecker::align_to(Term& term, int decimals) {
  if (term.type.kind != SortKind::level || term.type.decimals >= decimals) {
    return;
  }
  const Value factor = power_of_ten(std::min(decimals - term.type.decimals, 18));
  const Place place = term.place;
  term = make_times(factor, std::move(term), place);
  term.type.decimals = decimals;
}

void TermChecker::align(Term& one, Term& other) {
  align_to(one, other.type.decimals);
  align_to(other, one.type.decimals);
}

bool TermChecker::same_kind(const Type& one, const Type& other) {
  return one.kind == other.kind && (one.kind != SortKind::level || one.unit == other.unit) &&
         (one.kind != SortKind::position || one.owner == other.owner);
}

std::string TermChecker::describe(const Type& type) const {
  switch (type.kind) {
    case SortKind::condition:
      return "a condition (true or false)";
    case SortKind::level:
      return type.unit.empty() ? "a plain number" : fmt::format("a level in {}", type.unit);
    case SortKind::position:
      return fmt::format("a {} of '{}'", facts[type.owner].keyword == "stages" ? "stage" : "position",
                         collected_.elements[type.owner].name);
  }
  return "";
}

// ---- what is needed where ----

std::optional<Term> TermChecker::condition(const Expr& expr, const Scope& scope) {
  auto result = term(expr, scope);
  if (!result || result->type.kind == SortKind::condition) {
    return result;
  }
  const std::string text = one_line(context_.sources.text(expr.place)).substr(0, 60);
  std::string mend = fmt::format("compare it, for example '{} >= 0{}'", text,
                                 result->type.unit.empty() ? "" : " " + result->type.unit);
  if (result->type.kind == SortKind::position) {
    mend =
        fmt::format("say which, for example '{} is {}'", text, facts[result->type.owner].positions.front());
  }
  const std::string what =
      result->type.kind == SortKind::position ? "one of several positions or stages" : describe(result->type);
  context_.report(Code::wrong_type, expr.place,
                  fmt::format("a condition is needed here, but '{}' is {}", text, what), mend);
  return std::nullopt;
}

std::optional<Term> TermChecker::level(const Expr& expr, const Scope& scope) {
  auto result = term(expr, scope);
  if (!result || result->type.kind == SortKind::level) {
    return result;
  }
  context_.report(Code::wrong_type, expr.place,
                  fmt::format("a level or a number is needed here, but this is {}", describe(result->type)),
                  "use a channel, a counter or a number");
  return std::nullopt;
}

std::optional<Term> TermChecker::constant_level(const Expr& expr, const Scope& scope) {
  auto result = level(expr, scope);
  if (result && !is_constant(*result)) {
    context_.report(Code::not_constant, expr.place, "this must be the same in every run",
                    "write a number, or the name of a tunable");
    return std::nullopt;
  }
  return result;
}

std::optional<Value> TermChecker::constant_of(const Expr& expr, const Scope& scope, const Type& type) {
  auto result = term(expr, scope, &type);
  if (!result) {
    return std::nullopt;
  }
  if (!same_kind(result->type, type)) {
    const bool levels = type.kind == SortKind::level && result->type.kind == SortKind::level;
    std::string mend = "give a value of the same kind";
    if (levels) {
      mend = type.unit.empty() ? "leave the unit out" : fmt::format("say it in {}", type.unit);
    }
    context_.report(levels ? Code::wrong_unit : Code::wrong_type, expr.place,
                    fmt::format("{} is needed here, but this is {}", describe(type), describe(result->type)),
                    mend);
    return std::nullopt;
  }
  if (!is_constant(*result)) {
    context_.report(Code::not_constant, expr.place, "this must be the same in every run",
                    "write the value itself");
    return std::nullopt;
  }
  if (type.kind == SortKind::level && result->type.decimals > type.decimals) {
    const Value factor = power_of_ten(result->type.decimals - type.decimals);
    if (result->value % factor != 0) {
      context_.report(Code::not_whole_steps, expr.place, "this has more decimals than the value can take",
                      fmt::format("use at most {} decimals", type.decimals));
      return std::nullopt;
    }
    return result->value / factor;
  }
  align_to(*result, type.decimals);
  return result->value;
}

Value TermChecker::position(const std::string& word, const Place& place, const Type& type) {
  const std::vector<std::string>& known = facts[type.owner].positions;
  const auto found = std::find(known.begin(), known.end(), word);
  if (found != known.end()) {
    return found - known.begin();
  }
  const std::string near = nearest_name(word, known);
  context_.report(Code::unknown_position, place,
                  fmt::format("'{}' has no {} called '{}'", collected_.elements[type.owner].name,
                              facts[type.owner].keyword == "stages" ? "stage" : "position", word),
                  near.empty() ? fmt::format("it has: {}", fmt::join(known, ", "))
                               : fmt::format("did you mean '{}'?", near));
  return -1;
}

// ---- expressions ----

std::optional<Term> TermChecker::term(const Expr& expr, const Scope& scope, const Type* expected) {
  switch (expr.op) {
    case Op::truth:
      return make_truth(expr.number.digits != 0, expr.place);
    case Op::quantity:
      return quantity(expr);
    case Op::name:
      return named(expr, scope, expected);
    case Op::call:
      return call(expr, scope);
    case Op::negate: {
      auto operand = level(expr.operands[0], scope);
      return operand ? std::optional(make_times(-1, std::move(*operand), expr.place)) : std::nullopt;
    }
    case Op::add:
      return sum(expr, scope);
    case Op::multiply:
      return product(expr, scope);
    case Op::equal:
    case Op::unequal:
      return equality(expr, scope);
    case Op::less:
    case Op::less_equal:
    case Op::greater:
    case Op::greater_equal:
      return comparison(expr, scope);
    case Op::is:
    case Op::is_not:
      return is_position(expr, scope);
    case Op::not_: {
      auto operand = condition(expr.operands[0], scope);
      return operand ? std::optional(make_not(std::move(*operand), expr.place)) : std::nullopt;
    }
    case Op::and_:
    case Op::or_:
      return junction(expr, scope);
    case Op::xor_:
      return exclusive(expr, scope);
    case Op::implies:
      return implication(expr, scope);
    case Op::choose:
      return choice(expr, scope, expected);
  }
  return std::nullopt;
}

std::optional<Term> TermChecker::quantity(const Expr& expr) {
  if (is_time_unit(expr.text) && !is_level_unit(expr.text)) {
    context_.report(Code::wrong_unit, expr.place, "a time can't stand here", "use a level, such as '-99 %'");
    return std::nullopt;
  }
  if (!is_level_unit(expr.text)) {
    const std::string near = nearest_name(expr.text, all_units());
    context_.report(Code::unknown_unit, expr.place, fmt::format("there is no unit called '{}'", expr.text),
                    near.empty() ? fmt::format("use one of: {}", fmt::join(all_units(), ", "))
                                 : fmt::format("did you mean '{}'?", near));
    return std::nullopt;
  }
  if (expr.number.digits > largest_level) {
    context_.report(Code::bad_number, expr.place, "this number is too large",
                    fmt::format("use fewer digits: without its point it is at most {}", largest_level));
    return std::nullopt;
  }
  return Term{.op = TermOp::constant,
              .type = {.kind = SortKind::level, .unit = expr.text, .decimals = expr.number.decimals},
              .place = expr.place,
              .value = expr.number.digits};
}

std::optional<Term> TermChecker::named(const Expr& expr, const Scope& scope, const Type* expected) {
  if (expected != nullptr && expected->kind == SortKind::position) {
    const auto& known = facts[expected->owner].positions;
    if (std::find(known.begin(), known.end(), expr.text) != known.end() ||
        find(scope, expr.text) == nullptr) {
      const Value index = position(expr.text, expr.place, *expected);
      return index < 0 ? std::nullopt
                       : std::optional(Term{
                             .op = TermOp::constant, .type = *expected, .place = expr.place, .value = index});
    }
  }
  const Bound* bound = resolve(scope, expr.text, expr.place, context_);
  if (bound == nullptr) {
    return std::nullopt;
  }
  if (const auto* element = std::get_if<ElementBinding>(&bound->binding)) {
    return reference(expr, element->index);
  }
  if (const auto* tunable = std::get_if<TunableBinding>(&bound->binding)) {
    if (!looks_like_time(expr, scope)) {
      auto value = term(std::get<TunableDeclaration>(tunable->declaration->body).value, scope);
      if (value) {
        value->place = expr.place;
      }
      return value;
    }
  }
  const bool time = looks_like_time(expr, scope);
  context_.report(
      time ? Code::wrong_type : Code::wrong_sort_of_name, expr.place,
      time ? fmt::format("'{}' is a time, and a time can't stand here", expr.text)
           : fmt::format("'{}' is a part, not a value", expr.text),
      time ? "use it behind 'for', 'after' or 'within'" : "name an element of it, such as 'NAME.ok'",
      {{bound->place, "declared here"}});
  return std::nullopt;
}

std::optional<Term> TermChecker::reference(const Expr& expr, std::size_t index) {
  const ElementFacts& known = facts[index];
  if (!known.type) {
    return std::nullopt;
  }
  if (known.keyword == "link") {
    context_.report(Code::wrong_type, expr.place, fmt::format("'{}' is a link, not a condition", expr.text),
                    fmt::format("write '{} is lost' or '{} is not lost'", expr.text, expr.text));
    return std::nullopt;
  }
  if (known.constant) {
    Term constant = *known.constant;
    constant.place = expr.place;
    return constant;
  }
  return Term{.op = TermOp::reference, .type = *known.type, .place = expr.place, .element = index};
}

std::optional<std::vector<Term>> TermChecker::conditions(const Expr& expr, const Scope& scope) {
  std::vector<Term> terms;
  bool good = true;
  for (const Expr& operand : expr.operands) {
    auto checked = condition(operand, scope);
    good = good && checked.has_value();
    if (checked) {
      terms.push_back(std::move(*checked));
    }
  }
  return good ? std::optional(std::move(terms)) : std::nullopt;
}

std::optional<Term> TermChecker::junction(const Expr& expr, const Scope& scope) {
  auto terms = conditions(expr, scope);
  if (!terms) {
    return std::nullopt;
  }
  return make_condition(expr.op == Op::and_ ? TermOp::and_ : TermOp::or_, std::move(*terms), expr.place);
}

std::optional<Term> TermChecker::exclusive(const Expr& expr, const Scope& scope) {
  auto terms = conditions(expr, scope);
  if (!terms) {
    return std::nullopt;
  }
  return join_all(std::move(*terms), [&](std::vector<Term> pair) {
    return make_not(make_condition(TermOp::equal, std::move(pair), expr.place), expr.place);
  });
}

std::optional<Term> TermChecker::implication(const Expr& expr, const Scope& scope) {
  auto terms = conditions(expr, scope);
  if (!terms) {
    return std::nullopt;
  }
  (*terms)[0] = make_not(std::move((*terms)[0]), expr.place);
  return make_condition(TermOp::or_, std::move(*terms), expr.place);
}

std::optional<Term> TermChecker::sum(const Expr& expr, const Scope& scope) {
  auto total = level(expr.operands[0], scope);
  for (std::size_t index = 1; index < expr.operands.size(); ++index) {
    auto next = level(expr.operands[index], scope);
    if (!total || !next) {
      total.reset();
      continue;
    }
    if (!pair_up(*total, *next, expr.place)) {
      return std::nullopt;
    }
    if (is_constant(*total) && is_constant(*next)) {
      total->value = saturated(total->value + next->value);
      total->place = expr.place;
      continue;
    }
    const Type type = total->type;
    if (total->op == TermOp::add) {
      total->operands.push_back(std::move(*next));  // keeps a long sum flat
    } else {
      total = Term{.op = TermOp::add,
                   .type = type,
                   .place = expr.place,
                   .operands = {std::move(*total), std::move(*next)}};
    }
  }
  return total;
}

std::optional<Term> TermChecker::product(const Expr& expr, const Scope& scope) {
  Term factor{.op = TermOp::constant, .type = {.kind = SortKind::level}, .place = expr.place, .value = 1};
  std::optional<Term> varying;
  for (const Expr& operand : expr.operands) {
    auto next = level(operand, scope);
    if (!next) {
      return std::nullopt;
    }
    Term& plain = is_constant(*next) && next->type.unit.empty() ? *next : factor;
    if (&plain == &*next) {
      factor.value = saturating_product(factor.value, next->value);
      factor.type.decimals += next->type.decimals;
    } else if (varying) {
      context_.report(Code::not_constant, operand.place,
                      "only one of the factors may be a level or may change",
                      "multiply by plain numbers, such as '0.5 * thrust'");
      return std::nullopt;
    } else {
      varying = std::move(next);
    }
  }
  if (factor.type.decimals > 9 || (varying && factor.type.decimals + varying->type.decimals > 9)) {
    context_.report(Code::bad_number, expr.place, "this product has too many decimals",
                    "use at most 9 decimals in all");
    return std::nullopt;
  }
  if (!varying) {
    return factor;
  }
  const int decimals = factor.type.decimals + varying->type.decimals;
  Term result = make_times(factor.value, std::move(*varying), expr.place);
  result.type.decimals = decimals;
  return result;
}

std::optional<Term> TermChecker::choice(const Expr& expr, const Scope& scope, const Type* expected) {
  auto test = condition(expr.operands[0], scope);
  auto yes = term(expr.operands[1], scope, expected);
  auto no = term(expr.operands[2], scope, yes ? &yes->type : expected);
  if (!test || !yes || !no || !pair_up(*yes, *no, expr.place)) {
    return std::nullopt;
  }
  const Type type = yes->type;
  return Term{.op = TermOp::choose,
              .type = type,
              .place = expr.place,
              .operands = {std::move(*test), std::move(*yes), std::move(*no)}};
}

}  // namespace detent::dsl
