#include "dsl/check_inputs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <utility>

#include "dsl/limits.hpp"

namespace detent::dsl {
namespace {

std::string said(Value value, const Type& type) {
  return to_text(value, Sort{.kind = SortKind::level, .unit = type.unit, .decimals = type.decimals});
}

class InputChecker {
 public:
  InputChecker(const Collected& collected, TermChecker& terms, CheckContext& context)
      : collected_(collected), terms_(terms), context_(context) {}

  std::vector<Element> run() {
    for (std::size_t index = 0; index < collected_.elements.size(); ++index) {
      introduce(index);
    }
    // Now that positions are known and channels have their ranges:
    for (std::size_t index = 0; index < collected_.elements.size(); ++index) {
      const Declaration* declaration = collected_.elements[index].declaration;
      if (declaration != nullptr && std::holds_alternative<LinkDeclaration>(declaration->body)) {
        carry(index, std::get<LinkDeclaration>(declaration->body));
      }
    }
    return std::move(elements_);
  }

 private:
  void introduce(std::size_t index) {
    const PendingElement& pending = collected_.elements[index];
    Element element{
        .name = pending.name, .doc = "", .keyword = keyword_of(pending), .place = pending.place, .type = {}};
    element.hidden = pending.argument != nullptr;
    if (pending.declaration != nullptr) {
      element.doc = pending.declaration->doc;
      element.output = element.keyword == "output";
    }
    ElementFacts& facts = terms_.facts[index];
    facts.keyword = element.keyword;
    if (element.keyword == "channel") {
      channel(std::get<ChannelDeclaration>(pending.declaration->body), *pending.scope, element, facts);
    } else if (element.keyword == "switch") {
      positions(std::get<SwitchDeclaration>(pending.declaration->body).positions, index, element, facts);
      element.body = SwitchBody{};
    } else if (element.keyword == "stages") {
      positions(std::get<StagesDeclaration>(pending.declaration->body).stages, index, element, facts);
    } else if (element.keyword == "link") {
      facts.type = Type{};
      element.body = LinkBody{};
    } else if (element.keyword == "button") {
      facts.type = Type{};
      element.body = ButtonBody{};
    } else if (element.keyword == "counter") {
      facts.type = Type{.kind = SortKind::level};
    } else if (element.keyword == "pulse" || element.keyword == "delay" || element.keyword == "linger" ||
               element.keyword == "latch") {
      facts.type = Type{};
    }
    elements_.push_back(std::move(element));
  }

  void positions(const std::vector<Name>& names, std::size_t index, Element& element, ElementFacts& facts) {
    std::set<std::string> seen;
    for (const Name& name : names) {
      if (!seen.insert(name.text).second) {
        context_.report(Code::declared_twice, name.place, fmt::format("'{}' stands here twice", name.text),
                        "give each its own name");
      }
      facts.positions.push_back(name.text);
    }
    if (names.size() < 2) {
      context_.report(Code::bad_range, element.place,
                      fmt::format("'{}' needs two {} or more", element.name,
                                  element.keyword == "stages" ? "stages" : "positions"),
                      fmt::format("write for example '{} {} is {}'", element.keyword, element.name,
                                  element.keyword == "stages" ? "locked | live" : "safe | run"));
    }
    element.type = {.kind = SortKind::position, .unit = {}, .decimals = 0, .owner = index};
    element.positions = facts.positions;
    facts.type = element.type;
  }

  // ---- channels ----
  void channel(const ChannelDeclaration& declared, const Scope& scope, Element& element,
               ElementFacts& facts) {
    auto from = terms_.constant_level(declared.from, scope);
    auto to = terms_.constant_level(declared.to, scope);
    std::optional<Term> step =
        declared.step
            ? terms_.constant_level(*declared.step, scope)
            : std::optional(Term{.type = {.kind = SortKind::level, .unit = from ? from->type.unit : ""},
                                 .place = element.place,
                                 .value = 1});
    if (!from || !to || !step || !one_unit(*from, *to, declared.to.place) ||
        !one_unit(*from, *step, step->place)) {
      facts.failed = true;
      return;
    }
    TermChecker::align(*from, *to);
    TermChecker::align(*from, *step);
    TermChecker::align(*from, *to);
    element.type = from->type;
    ChannelBody body{.range = {from->value, to->value}, .step = step->value};
    if (!is_grid(declared, body, element) || !rate(declared, scope, element, body)) {
      facts.failed = true;
      return;
    }
    facts.type = element.type;
    facts.channel = body.range;
    facts.step = body.step;
    element.body = body;
  }

  bool one_unit(const Term& one, const Term& other, const Place& place) {
    if (TermChecker::same_kind(one.type, other.type)) {
      return true;
    }
    context_.report(
        Code::wrong_unit, place,
        fmt::format("this channel is in {}, but this is {}",
                    one.type.unit.empty() ? "plain numbers" : one.type.unit, terms_.describe(other.type)),
        "give all of a channel's levels the same unit");
    return false;
  }

  bool is_grid(const ChannelDeclaration& declared, const ChannelBody& body, const Element& element) {
    const Type& type = element.type;
    if (body.range.low >= body.range.high) {
      context_.report(
          Code::bad_range, declared.to.place,
          fmt::format("this channel has nowhere to go from {} to {}", said(body.range.low, type),
                      said(body.range.high, type)),
          body.range.low == body.range.high ? "let its two ends differ" : "put the lower end first");
      return false;
    }
    if (body.range.low < -largest_level || body.range.high > largest_level) {
      context_.report(Code::bad_number, declared.to.place, "this channel is too wide",
                      fmt::format("use fewer digits: without its point it is at most {}", largest_level));
      return false;
    }
    const Place place = declared.step ? declared.step->place : element.place;
    if (body.step <= 0) {
      context_.report(Code::bad_range, place, "a step must be more than nothing",
                      fmt::format("use for example {}", said(1, type)));
      return false;
    }
    const Value rest = (body.range.high - body.range.low) % body.step;
    if (rest != 0) {
      context_.report(
          Code::not_whole_steps, place,
          fmt::format("steps of {} from {} do not end at {}", said(body.step, type),
                      said(body.range.low, type), said(body.range.high, type)),
          fmt::format("let the channel end at {} or {}, or change the step",
                      said(body.range.high - rest, type), said(body.range.high - rest + body.step, type)));
      return false;
    }
    return true;
  }

  // A rate must be whole steps in whole ticks: anything else would have to be rounded.
  bool rate(const ChannelDeclaration& declared, const Scope& scope, Element& element, ChannelBody& body) {
    if (!declared.rate) {
      return true;
    }
    auto amount = terms_.constant_level(*declared.rate, scope);
    const auto per = unit_length(declared.rate_unit, context_.tick);
    if (!per) {
      context_.report(Code::unknown_unit, declared.rate_unit_place,
                      fmt::format("there is no time called '{}'", declared.rate_unit),
                      "write per us, per ms, per s, per min, per h or per tick");
      return false;
    }
    if (!amount || context_.tick == 0 ||
        !one_unit(Term{.type = element.type}, *amount, declared.rate->place)) {
      return false;
    }
    if (amount->value <= 0) {
      context_.report(
          Code::bad_range, declared.rate->place,
          fmt::format("a channel that moves at most {} {} could never move",
                      said(amount->value, amount->type), fmt::format("per {}", declared.rate_unit)),
          "write a rate above 0, or leave 'moving at most' out");
      return false;
    }
    // Levels moved in `per`, in units of 10^-6 of the amount's last decimal times ticks: exact in 128 bits.
    Picoseconds scale = 1;
    for (int more = element.type.decimals; more < amount->type.decimals; ++more) {
      scale *= 10;
    }
    TermChecker::align_to(*amount, element.type.decimals);
    const Picoseconds moved = Picoseconds{amount->value} * context_.tick;
    const Picoseconds whole = *per * scale * body.step;
    if (moved <= 0 || moved % whole != 0) {
      report_rate(declared, element, body, moved, whole, *per);
      return false;
    }
    const Picoseconds most = moved / whole * body.step;
    const Value width = body.range.high - body.range.low;
    if (most >= width) {
      context_.report(
          Code::limits_nothing, declared.rate->place,
          fmt::format("this limits nothing: in a tick of {} the channel may cross its whole range",
                      duration_text(context_.tick)),
          "leave 'moving at most' out, or write a smaller rate");
    }
    body.most_per_tick = static_cast<Value>(std::min<Picoseconds>(most, width));
    return true;
  }

  void report_rate(const ChannelDeclaration& declared, const Element& element, const ChannelBody& body,
                   Picoseconds moved, Picoseconds whole, Picoseconds per) {
    const auto steps = moved <= 0 ? Picoseconds{0} : moved / whole;
    std::vector<std::string> near;
    for (const Picoseconds count : {steps, steps + 1}) {
      const Picoseconds levels = count * body.step * per;
      if (count > 0 && levels % context_.tick == 0) {
        near.push_back(fmt::format(
            "{} per {}", said(static_cast<Value>(levels / context_.tick), element.type), declared.rate_unit));
      }
    }
    near.push_back("a finer step");
    context_.report(Code::not_whole_steps, declared.rate->place,
                    fmt::format("in a tick of {} this is not a whole number of steps of {}",
                                duration_text(context_.tick), said(body.step, element.type)),
                    fmt::format("use {}", fmt::join(near, " or ")));
  }

  // ---- links ----
  void carry(std::size_t link, const LinkDeclaration& declared) {
    const Scope& scope = *collected_.elements[link].scope;
    for (const Name& name : declared.carried) {
      const std::size_t input = input_called(name, scope);
      if (input == no_input) {
        continue;
      }
      if (elements_[input].carriage) {
        context_.report(Code::bad_link, name.place,
                        fmt::format("'{}' is already carried by a link", name.text), "let one link carry it");
        continue;
      }
      elements_[input].carriage = Carriage{.link = link, .lost = {}};
      if (!declared.as_before) {
        elements_[input].carriage->lost = lost_value(name, input, declared, scope);
      }
    }
    for (const LostValue& value : declared.values) {
      const bool carried = std::any_of(declared.carried.begin(), declared.carried.end(),
                                       [&](const Name& name) { return name.text == value.input.text; });
      if (!carried) {
        context_.report(Code::bad_link, value.input.place,
                        fmt::format("this link does not carry '{}'", value.input.text),
                        "add it behind 'carries', or take it out here");
      }
    }
  }

  std::size_t input_called(const Name& name, const Scope& scope) {
    const Bound* bound = resolve(scope, name.text, name.place, context_);
    if (bound == nullptr) {
      return no_input;
    }
    const auto* element = std::get_if<ElementBinding>(&bound->binding);
    const std::string keyword = element == nullptr ? "" : terms_.facts[element->index].keyword;
    if (keyword != "channel" && keyword != "switch" && keyword != "button") {
      context_.report(Code::bad_link, name.place,
                      fmt::format("'{}' is no input that a link can carry", name.text),
                      "a link carries channels, switches and buttons", {{bound->place, "declared here"}});
      return no_input;
    }
    return element->index;
  }

  std::optional<Value> lost_value(const Name& name, std::size_t input, const LinkDeclaration& declared,
                                  const Scope& scope) {
    const auto given = std::find_if(declared.values.begin(), declared.values.end(),
                                    [&](const LostValue& value) { return value.input.text == name.text; });
    if (given == declared.values.end()) {
      context_.report(Code::bad_link, name.place,
                      fmt::format("it is not said what '{}' becomes while the link is lost", name.text),
                      "add it behind 'lost:'");
      return std::nullopt;
    }
    if (elements_[input].keyword == "button") {
      return button_word(given->value);
    }
    if (!terms_.facts[input].type) {
      return std::nullopt;
    }
    const auto value = terms_.constant_of(given->value, scope, *terms_.facts[input].type);
    const auto& range = terms_.facts[input].channel;
    if (value && range && (*value < range->low || *value > range->high)) {
      context_.report(
          Code::out_of_range, given->value.place,
          fmt::format("'{}' only goes from {} to {}", name.text, said(range->low, *terms_.facts[input].type),
                      said(range->high, *terms_.facts[input].type)),
          "use a level between the two");
      return std::nullopt;
    }
    if (value && range && !on_step(*value, input, given->value.place)) {
      return std::nullopt;
    }
    return value;
  }

  // What the design sees of a channel is always one of the channel's levels, link or no link.
  bool on_step(Value value, std::size_t input, const Place& place) {
    const ElementFacts& facts = terms_.facts[input];
    const Value rest = (value - facts.channel->low) % facts.step;
    if (rest != 0) {
      context_.report(
          Code::not_whole_steps, place,
          fmt::format("'{}' has no such level: it goes from {} on in steps of {}", elements_[input].name,
                      said(facts.channel->low, *facts.type), said(facts.step, *facts.type)),
          fmt::format("use {} or {}, or a finer step", said(value - rest, *facts.type),
                      said(value - rest + facts.step, *facts.type)),
          {{elements_[input].place, "declared here"}});
    }
    return rest == 0;
  }

  std::optional<Value> button_word(const Expr& expr) {
    if (expr.op == Op::name && (expr.text == "pressed" || expr.text == "released")) {
      return expr.text == "pressed" ? 1 : 0;
    }
    context_.report(Code::unknown_position, expr.place, "a button is pressed or released",
                    "write 'pressed' or 'released'");
    return std::nullopt;
  }

  static constexpr std::size_t no_input = static_cast<std::size_t>(-1);
  const Collected& collected_;
  TermChecker& terms_;
  CheckContext& context_;
  std::vector<Element> elements_;
};

struct Keyword {
  std::string operator()(const ChannelDeclaration&) const { return "channel"; }
  std::string operator()(const SwitchDeclaration&) const { return "switch"; }
  std::string operator()(const ButtonDeclaration&) const { return "button"; }
  std::string operator()(const LinkDeclaration&) const { return "link"; }
  std::string operator()(const SignalDeclaration&) const { return "signal"; }
  std::string operator()(const PulseDeclaration&) const { return "pulse"; }
  std::string operator()(const DelayDeclaration&) const { return "delay"; }
  std::string operator()(const LingerDeclaration&) const { return "linger"; }
  std::string operator()(const LatchDeclaration&) const { return "latch"; }
  std::string operator()(const CounterDeclaration&) const { return "counter"; }
  std::string operator()(const KeepDeclaration&) const { return "keep"; }
  std::string operator()(const StagesDeclaration&) const { return "stages"; }
  std::string operator()(const OutputDeclaration&) const { return "output"; }
  template <typename Other>
  std::string operator()(const Other&) const {
    return "";
  }
};

}  // namespace

std::string keyword_of(const PendingElement& pending) {
  return pending.declaration == nullptr ? "" : std::visit(Keyword{}, pending.declaration->body);
}

std::vector<Element> check_inputs(const Collected& collected, TermChecker& terms, CheckContext& context) {
  return InputChecker(collected, terms, context).run();
}

}  // namespace detent::dsl
