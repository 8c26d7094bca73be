// The steps of checking, one after another; and claims, assumptions and warnings, which come last.
#include "dsl/check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <utility>

#include "dsl/check_elements.hpp"
#include "dsl/durations.hpp"
#include "dsl/order.hpp"
#include "dsl/scope.hpp"
#include "dsl/terms.hpp"

namespace detent::dsl {
namespace {

/// Claims and assumptions each have names of their own, apart from elements and from each other.
class StatementChecker {
 public:
  StatementChecker(TermChecker& terms, CheckContext& context) : terms_(terms), context_(context) {}

  std::vector<CheckedClaim> claims(const std::vector<Statement>& statements) {
    std::vector<CheckedClaim> checked;
    std::map<std::string, Place> names;
    for (const Statement& statement : statements) {
      const Declaration& declaration = *statement.declaration;
      const std::string name = statement.scope->prefix + declaration.name.text;
      const auto [entry, is_new] = names.try_emplace(name, declaration.name.place);
      if (!is_new) {
        context_.report(Code::declared_twice, declaration.name.place,
                        fmt::format("'{}' is declared twice", name), "give one of them another name",
                        {{entry->second, "first declared here"}});
      }
      const auto* claim = std::get_if<ClaimDeclaration>(&declaration.body);
      const ClaimBody& body =
          claim != nullptr ? claim->body : std::get<AssumeDeclaration>(declaration.body).body;
      if (claim == nullptr) {
        check_assumption(body);
      }
      if (auto one = check_body(body, *statement.scope)) {
        one->name = name;
        one->doc = declaration.doc;
        one->place = declaration.name.place;
        checked.push_back(std::move(*one));
      }
    }
    return checked;
  }

  std::vector<PowerUpCondition> power_up(const std::vector<Statement>& statements) {
    std::vector<PowerUpCondition> checked;
    for (const Statement& statement : statements) {
      const auto& body = std::get<AtPowerUp>(statement.declaration->body);
      if (auto condition = terms_.condition(body.condition, *statement.scope)) {
        checked.push_back({statement.declaration->place, std::move(*condition)});
      }
    }
    return checked;
  }

 private:
  void check_assumption(const ClaimBody& body) {
    if (body.form == ClaimForm::possible || body.form == ClaimForm::possible_within) {
      context_.report(Code::bad_assumption, body.place, "what is only possible can't be assumed",
                      "assume something that always holds, with 'always', 'never' or 'whenever'");
    }
  }

  // `for` and `lasts` speak of at least one tick; `within 0 s` means in the same tick.
  static Value least_ticks(ClaimForm form) {
    const bool lasting = form == ClaimForm::whenever_for || form == ClaimForm::lasts_at_least ||
                         form == ClaimForm::lasts_at_most;
    return lasting ? 1 : 0;
  }

  std::optional<CheckedClaim> check_body(const ClaimBody& body, const Scope& scope) {
    auto first = terms_.condition(body.first, scope);
    auto second = body.second ? terms_.condition(*body.second, scope) : std::nullopt;
    auto ticks =
        body.duration ? ticks_of(*body.duration, scope, least_ticks(body.form), context_) : std::nullopt;
    if (!first || (body.second && !second) || (body.duration && !ticks)) {
      return std::nullopt;
    }
    return CheckedClaim{.name = {},
                        .doc = {},
                        .place = {},
                        .body = body.place,
                        .form = body.form,
                        .first = std::move(*first),
                        .second = std::move(second),
                        .ticks = ticks};
  }

  TermChecker& terms_;
  CheckContext& context_;
};

// A tunable's value must lie in its range, and all three must be of one kind.
void check_tunables(const Collected& collected, TermChecker& terms, CheckContext& context) {
  for (const Statement& statement : collected.tunables) {
    const auto& body = std::get<TunableDeclaration>(statement.declaration->body);
    std::optional<Value> value, from, to;
    if (looks_like_time(body.value, *statement.scope)) {
      value = ticks_of(body.value, *statement.scope, 0, context);
      from = ticks_of(body.from, *statement.scope, 0, context);
      to = ticks_of(body.to, *statement.scope, 0, context);
    } else if (auto term = terms.constant_level(body.value, *statement.scope)) {
      value = term->value;
      from = terms.constant_of(body.from, *statement.scope, term->type);
      to = terms.constant_of(body.to, *statement.scope, term->type);
    }
    if (value && from && to && (*value < *from || *value > *to)) {
      context.report(
          Code::bad_range, body.value.place,
          fmt::format("the value of '{}' lies outside its own range", statement.declaration->name.text),
          "widen the range or change the value");
    }
  }
}

// What a design offers and nobody takes. A part may offer more than is used of it, so its own elements are
// left alone, but a part of which nothing is used is not.
void warn_of_unused(const Collected& collected, const Order& order, const std::vector<Element>& elements,
                    CheckContext& context) {
  const auto warn = [&](const Place& place, const std::string& name) {
    context.report(Code::unused, place, fmt::format("nothing uses '{}'", name),
                   "use it in a claim or an element, or leave it out");
  };
  for (std::size_t index = 0; index < elements.size(); ++index) {
    const bool top = collected.elements[index].scope == &collected.scopes.front() &&
                     collected.elements[index].argument == nullptr;
    if (top && !order.used[index] && !elements[index].output) {
      warn(elements[index].place, elements[index].name);
    }
  }
  // A file that is included may offer more than this design takes.
  for (const auto& [name, bound] : collected.scopes.front().names) {
    const bool may_be_idle = std::holds_alternative<TunableBinding>(bound.binding) ||
                             std::holds_alternative<PartBinding>(bound.binding);
    if (may_be_idle && !bound.used && bound.place.file == 0) {
      warn(bound.place, name);
    }
  }
  for (const PartInUse& part : collected.parts_in_use) {
    bool used = part.claims || part.begin == part.end;
    for (std::size_t index = part.begin; index < part.end && !used; ++index) {
      used = elements[index].output || order.used_from_outside[index];
    }
    if (!used) {
      warn(part.name.place, part.name.text);
    }
  }
}

struct LongestTime {
  Value operator()(const PulseBody& body) const { return body.ticks; }
  Value operator()(const DelayBody& body) const { return body.ticks; }
  Value operator()(const LingerBody& body) const { return body.ticks; }
  Value operator()(const StagesBody& body) const {
    Value longest = 0;
    for (const CheckedMove& move : body.moves) {
      longest = std::max(longest, move.after.value_or(0));
    }
    return longest;
  }
  template <typename Other>
  Value operator()(const Other&) const {
    return 0;
  }
};

Value longest_in(const Term& term) {
  Value longest = term.op == TermOp::held || term.op == TermOp::recently ? term.value : 0;
  for (const Term& operand : term.operands) {
    longest = std::max(longest, longest_in(operand));
  }
  return longest;
}

Value longest_time(const Design& design) {
  Value longest = 0;
  for (const Element& element : design.elements) {
    longest = std::max(longest, std::visit(LongestTime{}, element.body));
    if (const auto* value = std::get_if<ValueBody>(&element.body)) {
      longest = std::max(longest, longest_in(value->value));
    }
  }
  for (const auto* claims : {&design.claims, &design.assumptions}) {
    for (const CheckedClaim& claim : *claims) {
      longest = std::max({longest, claim.ticks.value_or(0), longest_in(claim.first)});
      longest = std::max(longest, claim.second ? longest_in(*claim.second) : 0);
    }
  }
  return longest;
}

// An element that looks at itself through `previous` round more than a name has no kind that could be told:
// `signal a = previous(a and b)`. Nothing has been said of it yet.
void report_untold(const std::vector<Element>& elements, const TermChecker& terms, CheckContext& context) {
  for (std::size_t index = 0; index < elements.size(); ++index) {
    if (terms.facts[index].failed && !has_errors(context.diagnostics)) {
      context.report(Code::wrong_type, elements[index].place,
                     fmt::format("'{}' looks at itself one tick ago, and so its kind can't be told",
                                 elements[index].name),
                     "put a name alone in the brackets of previous(…), with a starting value: previous(NAME, "
                     "starting VALUE)");
    }
  }
}

}  // namespace

std::optional<Design> check(const Tree& tree, const Sources& sources, Diagnostics& diagnostics) {
  CheckContext context{.sources = sources, .diagnostics = diagnostics};
  const Collected collected = collect(tree, context);
  const Order order = order_elements(collected, context);
  TermChecker terms(collected, context);
  check_tunables(collected, terms, context);
  Design design;
  design.title = collected.title;
  design.tick_us = static_cast<std::int64_t>(context.tick / 1'000'000);
  design.edges = collected.edges;
  design.elements = check_elements(collected, order, terms, context);
  report_untold(design.elements, terms, context);
  design.order = order.evaluation;
  StatementChecker statements(terms, context);
  design.claims = statements.claims(collected.claims);
  design.assumptions = statements.claims(collected.assumptions);
  design.at_power_up = statements.power_up(collected.at_power_up);
  design.longest_time = longest_time(design);
  if (has_errors(diagnostics)) {
    return std::nullopt;
  }
  if (collected.claims.empty()) {
    context.report(Code::no_claim, {}, "this design claims nothing, so there is nothing to prove",
                   "add a line such as 'claim NAME \"…\": whenever …: …'");
  }
  warn_of_unused(collected, order, design.elements, context);
  return design;
}

}  // namespace detent::dsl
