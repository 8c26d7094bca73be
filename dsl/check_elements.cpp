// Computed elements: signals, clocks, memories, stages, outputs. Inputs are in check_inputs.cpp.
#include "dsl/check_elements.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "dsl/check_inputs.hpp"
#include "dsl/durations.hpp"
#include "dsl/limits.hpp"

namespace detent::dsl {
namespace {

class ElementChecker {
 public:
  ElementChecker(const PendingElement& pending, Element& element, TermChecker& terms, CheckContext& context)
      : scope_(*pending.scope), pending_(pending), element_(element), terms_(terms), context_(context) {}

  /// The body, and element_.type; nothing where something was wrong.
  std::optional<ElementBody> check() {
    if (pending_.argument != nullptr) {
      return argument();
    }
    return std::visit([this](const auto& body) { return this->body_of(body); }, pending_.declaration->body);
  }

 private:
  using Body = std::optional<ElementBody>;

  Body argument() {
    const bool condition = pending_.parameter == ParameterKind::condition;
    auto value =
        condition ? terms_.condition(*pending_.argument, scope_) : terms_.level(*pending_.argument, scope_);
    if (value && pending_.parameter == ParameterKind::count && !value->type.unit.empty()) {
      context_.report(
          Code::wrong_unit, pending_.place,
          fmt::format("a plain number is needed here, but this is {}", terms_.describe(value->type)),
          "leave the unit out");
      return {};
    }
    return value_body(std::move(value));
  }

  Body value_body(std::optional<Term> value) {
    if (!value) {
      return {};
    }
    element_.type = value->type;
    return ValueBody{std::move(*value)};
  }

  Body body_of(const SignalDeclaration& body) { return value_body(terms_.term(body.value, scope_)); }

  Body body_of(const OutputDeclaration& body) {
    auto value = terms_.term(body.value, scope_);
    if (!body.when) {
      return value_body(std::move(value));
    }
    auto when = terms_.condition(*body.when, scope_);
    auto otherwise = terms_.term(*body.otherwise, scope_, value ? &value->type : nullptr);
    if (!value || !when || !otherwise) {
      return {};
    }
    if (!TermChecker::same_kind(value->type, otherwise->type)) {
      context_.report(Code::wrong_type, body.otherwise->place,
                      fmt::format("the output is {} in one case and {} in the other",
                                  terms_.describe(value->type), terms_.describe(otherwise->type)),
                      "use two of the same kind and unit");
      return {};
    }
    TermChecker::align(*value, *otherwise);
    const Type type = value->type;
    return value_body(Term{.op = TermOp::choose,
                           .type = type,
                           .place = body.value.place,
                           .operands = {std::move(*when), std::move(*value), std::move(*otherwise)}});
  }

  Body body_of(const PulseDeclaration& body) {
    auto trigger = terms_.condition(body.trigger, scope_);
    const auto ticks = ticks_of(body.length, scope_, 1, context_);
    auto cancel = body.cancel ? terms_.condition(*body.cancel, scope_) : std::nullopt;
    if (!trigger || !ticks || (body.cancel && !cancel)) {
      return {};
    }
    return PulseBody{std::move(*trigger), *ticks, body.restarting, std::move(cancel)};
  }

  template <typename Clock, typename Declared>
  Body clock(const Declared& body) {
    auto input = terms_.condition(body.input, scope_);
    const auto ticks = ticks_of(body.length, scope_, 1, context_);
    return input && ticks ? Body(Clock{std::move(*input), *ticks}) : Body();
  }
  Body body_of(const DelayDeclaration& body) { return clock<DelayBody>(body); }
  Body body_of(const LingerDeclaration& body) { return clock<LingerBody>(body); }

  Body body_of(const LatchDeclaration& body) {
    auto set = terms_.condition(body.set, scope_);
    auto reset = terms_.condition(body.reset, scope_);
    return set && reset ? Body(LatchBody{std::move(*set), std::move(*reset), body.set_wins, body.starting_on})
                        : Body();
  }

  Body body_of(const CounterDeclaration& body) {
    element_.type = {.kind = SortKind::level};
    auto up = terms_.condition(body.up, scope_);
    auto down = body.down ? terms_.condition(*body.down, scope_) : std::nullopt;
    auto reset = body.reset ? terms_.condition(*body.reset, scope_) : std::nullopt;
    const auto from = terms_.constant_of(body.from, scope_, element_.type);
    const auto to = terms_.constant_of(body.to, scope_, element_.type);
    if (from && to && *from >= *to) {
      context_.report(Code::bad_range, body.to.place,
                      fmt::format("this counter has nowhere to go from {} to {}", *from, *to),
                      "put the smaller number first");
      return {};
    }
    if (!up || (body.down && !down) || (body.reset && !reset) || !from || !to) {
      return {};
    }
    return CounterBody{std::move(*up), std::move(down), std::move(reset), {*from, *to}};
  }

  Body body_of(const KeepDeclaration& body) {
    auto value = terms_.term(body.value, scope_);
    auto when = terms_.condition(body.when, scope_);
    if (!value || !when) {
      return {};
    }
    if (value->type.kind == SortKind::level) {
      const auto start = terms_.level(body.start, scope_);
      TermChecker::align_to(*value, start ? start->type.decimals : 0);
    }
    const auto start = terms_.constant_of(body.start, scope_, value->type);
    if (!start) {
      return {};
    }
    element_.type = value->type;
    return KeepBody{std::move(*value), std::move(*when), *start};
  }

  // ---- stages ----
  Body body_of(const StagesDeclaration& body) {
    bool good = true;
    StagesBody checked;
    for (const Move& move : body.moves) {
      auto one = move_of(move, body);
      good = good && one.has_value();
      if (one) {
        checked.moves.push_back(std::move(*one));
      }
    }
    // A line with a misspelt stage may be the one that leads there.
    const bool all_known = std::all_of(body.moves.begin(), body.moves.end(), [&](const Move& move) {
      return std::any_of(body.stages.begin(), body.stages.end(),
                         [&](const Name& stage) { return stage.text == move.to.text; });
    });
    for (const Name& stage : body.stages) {
      good = (!all_known || is_reached(stage, body)) && good;
    }
    return good ? Body(std::move(checked)) : Body();
  }

  bool is_reached(const Name& stage, const StagesDeclaration& body) {
    const bool reached = &stage == &body.stages.front() ||
                         std::any_of(body.moves.begin(), body.moves.end(),
                                     [&](const Move& move) { return move.to.text == stage.text; });
    if (!reached) {
      context_.report(Code::bad_stages, stage.place,
                      fmt::format("no line leads to the stage '{}'", stage.text),
                      fmt::format("add a line such as '{} -> {} when …', or leave the stage out",
                                  body.stages.front().text, stage.text));
    }
    return reached;
  }

  std::optional<CheckedMove> move_of(const Move& move, const StagesDeclaration& body) {
    const Type type{.kind = SortKind::position, .owner = element_.type.owner};
    CheckedMove checked{.place = move.place};
    checked.to = terms_.position(move.to.text, move.to.place, type);
    bool good = checked.to >= 0;
    if (move.from) {
      checked.from = terms_.position(move.from->text, move.from->place, type);
      good = good && *checked.from >= 0;
    }
    if (move.after) {
      checked.after = ticks_of(*move.after, scope_, 1, context_);
      good = good && checked.after.has_value();
    }
    if (move.when) {
      checked.when = terms_.condition(*move.when, scope_);
      good = good && checked.when.has_value();
    }
    return good && is_sound(move, body) ? std::optional(std::move(checked)) : std::nullopt;
  }

  bool is_sound(const Move& move, const StagesDeclaration&) {
    if (move.from && move.from->text == move.to.text) {
      context_.report(Code::bad_stages, move.place,
                      fmt::format("this line leads from '{}' to itself", move.to.text),
                      "leave it out; to start a time again, use a pulse with 'restarting'");
      return false;
    }
    if (!move.from && move.after) {
      context_.report(Code::bad_stages, move.place,
                      "'any' with 'after' does not say which stage's time is meant",
                      "write one line for each stage");
      return false;
    }
    return true;
  }

  template <typename Input>
  Body body_of(const Input&) {
    return SwitchBody{};  // inputs are checked before, other declarations are no elements
  }

  const Scope& scope_;
  const PendingElement& pending_;
  Element& element_;
  TermChecker& terms_;
  CheckContext& context_;
};

bool is_input(const PendingElement& pending) {
  const std::string keyword = keyword_of(pending);
  return keyword == "channel" || keyword == "switch" || keyword == "button" || keyword == "link";
}

void compare_assumed(const TermChecker& terms, CheckContext& context) {
  for (const AssumedType& assumed : terms.assumed) {
    const auto& type = terms.facts[assumed.element].type;
    if (!type || (TermChecker::same_kind(*type, assumed.type) && type->decimals == assumed.type.decimals)) {
      continue;
    }
    const bool decimals = TermChecker::same_kind(*type, assumed.type);
    context.report(Code::wrong_type, assumed.place,
                   decimals ? fmt::format("what is remembered here has {} decimals, its starting value {}",
                                          type->decimals, assumed.type.decimals)
                            : fmt::format("what is remembered here is {}, but it starts as {}",
                                          terms.describe(*type), terms.describe(assumed.type)),
                   decimals ? "write the starting value with as many decimals"
                            : "give it a starting value of its own kind: previous(…, starting VALUE)");
  }
}

void remember(const Element& element, ElementFacts& facts) {
  facts.type = element.type;
  const auto* value = std::get_if<ValueBody>(&element.body);
  if (value != nullptr && value->value.op == TermOp::constant && !element.output) {
    facts.constant = value->value;
  }
}

/// False where nothing is wrong but the kind of something it looks at is not known yet.
bool settle(const PendingElement& pending, Element& element, ElementFacts& facts, TermChecker& terms,
            CheckContext& context) {
  const std::size_t said = context.diagnostics.size();
  if (auto body = ElementChecker(pending, element, terms, context).check()) {
    element.body = std::move(*body);
    remember(element, facts);
    return true;
  }
  facts.failed = context.diagnostics.size() != said;
  return facts.failed;
}

}  // namespace

std::vector<Element> check_elements(const Collected& collected, const Order& order, TermChecker& terms,
                                    CheckContext& context) {
  std::vector<Element> elements = check_inputs(collected, terms, context);
  // In a loop through `previous` an element may have to wait until the kinds of others are known.
  std::vector<std::size_t> open = order.typing;
  for (std::size_t before = open.size() + 1; open.size() < before;) {
    before = open.size();
    std::vector<std::size_t> waiting;
    for (const std::size_t index : open) {
      if (!is_input(collected.elements[index]) &&
          !settle(collected.elements[index], elements[index], terms.facts[index], terms, context)) {
        waiting.push_back(index);
      }
    }
    open = std::move(waiting);
  }
  for (const std::size_t index : open) {
    terms.facts[index].failed = true;
  }
  compare_assumed(terms, context);
  return elements;
}

}  // namespace detent::dsl
