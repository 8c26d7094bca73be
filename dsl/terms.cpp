// Expressions other than calls: truth, numbers, names, gates, comparisons, arithmetic, choices.
#include "dsl/terms.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "dsl/durations.hpp"
#include "dsl/limits.hpp"
#include "dsl/text.hpp"

namespace detent::dsl {
namespace {

Value power_of_ten(int exponent) {
  Value power = 1;
  for (; exponent > 0; --exponent) {
    power *= 10;
  }
  return power;
}

bool is_constant(const Term& term) {
  return term.op == TermOp::constant;
}

/// The word behind `is`, which ends the comparison.
Place place_of_word(const Expr& comparison) {
  Place place = comparison.place;
  const auto size = static_cast<std::uint32_t>(comparison.text.size());
  place.begin = std::max(place.begin, place.end - std::min(place.end, size));
  return place;
}

}  // namespace

// ---- terms from terms ----

Term make_truth(bool value, const Place& place) {
  return {.op = TermOp::constant, .type = {}, .place = place, .value = value ? 1 : 0};
}

Term make_not(Term operand, const Place& place) {
  return {.op = TermOp::not_, .type = {}, .place = place, .operands = {std::move(operand)}};
}

Term make_condition(TermOp op, std::vector<Term> operands, const Place& place, Value value) {
  return {.op = op, .type = {}, .place = place, .value = value, .operands = std::move(operands)};
}

Term make_times(Value factor, Term operand, const Place& place) {
  if (is_constant(operand)) {
    operand.value = saturating_product(factor, operand.value);
    operand.place = place;
    return operand;
  }
  Type type = operand.type;
  return {.op = TermOp::times,
          .type = std::move(type),
          .place = place,
          .value = factor,
          .operands = {std::move(operand)}};
}

Term join_all(std::vector<Term> terms, const std::function<Term(std::vector<Term>)>& join) {
  while (terms.size() > 1) {
    std::vector<Term> joined;
    joined.reserve(terms.size() / 2 + 1);
    for (std::size_t index = 0; index + 1 < terms.size(); index += 2) {
      std::vector<Term> pair;
      pair.reserve(2);
      pair.push_back(std::move(terms[index]));
      pair.push_back(std::move(terms[index + 1]));
      joined.push_back(join(std::move(pair)));
    }
    if (terms.size() % 2 != 0) {
      joined.push_back(std::move(terms.back()));
    }
    terms = std::move(joined);
  }
  return std::move(terms.front());
}

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
          Code::unknown_position, place_of_word(expr), fmt::format("a {} can't be '{}'", keyword, expr.text),
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
    const Value index = position(expr.text, place_of_word(expr), value->type);
    if (index < 0) {
      return std::nullopt;
    }
    Term wanted{.op = TermOp::constant, .type = value->type, .place = expr.place, .value = index};
    result = make_condition(TermOp::equal, {std::move(*value), std::move(wanted)}, expr.place);
  }
  return expr.op == Op::is_not ? make_not(std::move(*result), expr.place) : std::move(result);
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
