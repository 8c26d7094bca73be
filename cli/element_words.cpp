#include "cli/element_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <variant>
#include <vector>

#include "cli/words.hpp"
#include "dsl/text.hpp"

namespace detent::cli {
namespace {

using dsl::Element;

class ElementWords {
 public:
  ElementWords(const dsl::Compiled& compiled, const Element& element)
      : compiled_(compiled), element_(element) {}

  std::string operator()(const dsl::ChannelBody& body) const {
    std::string text = fmt::format("{} may be anywhere from {} to {} in every tick, in steps of {}", name(),
                                   level(body.range.low), level(body.range.high), level(body.step));
    if (body.most_per_tick)
      text += fmt::format("; from one tick to the next it moves by {} at most", level(*body.most_per_tick));
    return text + ".";
  }
  std::string operator()(const dsl::SwitchBody&) const {
    return fmt::format("{} may be at {} in every tick.", name(), any_of(element_.positions));
  }
  std::string operator()(const dsl::ButtonBody&) const {
    return name() + " may be pressed or released in every tick.";
  }
  std::string operator()(const dsl::LinkBody&) const {
    return fmt::format("The {} link may be there or lost in every tick.", name());
  }
  std::string operator()(const dsl::ValueBody& body) const {
    return fmt::format("In every tick {} is: {}", name(), source(body.value));
  }
  std::string operator()(const dsl::PulseBody& body) const {
    std::string text =
        fmt::format("{} goes on when this goes on: {}. Then it is on for {}, this tick included", name(),
                    source(body.trigger), time(body.ticks));
    text += body.restarting ? "; if it goes on once more meanwhile, the time starts again."
                            : "; if it goes on once more meanwhile, that counts for nothing.";
    if (body.cancel)
      text += fmt::format(" It is off, and nothing starts it, while this is true: {}.", source(*body.cancel));
    return text;
  }
  std::string operator()(const dsl::DelayBody& body) const {
    return fmt::format("{} is on once this has been true for {}, and as long as it stays true: {}", name(),
                       time(body.ticks), source(body.input));
  }
  std::string operator()(const dsl::LingerBody& body) const {
    return fmt::format("{} is on while this is true, and for {} after it: {}", name(), time(body.ticks),
                       source(body.input));
  }
  std::string operator()(const dsl::LatchBody& body) const {
    return fmt::format(
        "{} is on if this is true: {}. It is off if this is true: {}. If both are, it is {}; if "
        "none is, it stays as it was one tick ago. Before tick 0 it counts as {}.",
        name(), source(body.set), source(body.reset), body.set_wins ? "on" : "off",
        body.starting_on ? "on" : "off");
  }
  std::string operator()(const dsl::CounterBody& body) const {
    std::string text =
        fmt::format("{} is one more than one tick ago when this goes on: {}", name(), source(body.up));
    if (body.down)
      text +=
          fmt::format(", and one less when this does: {} (both at once change nothing)", source(*body.down));
    text += fmt::format(". It stays from {} to {}, and begins at {}.", level(body.range.low),
                        level(body.range.high), level(body.range.low));
    if (body.reset)
      text += fmt::format(" While this is true it is {}: {}.", level(body.range.low), source(*body.reset));
    return text;
  }
  std::string operator()(const dsl::KeepBody& body) const {
    return fmt::format(
        "While this is true: {}; {} is: {}. Else it stays as it was one tick ago; before the "
        "first time it is {}.",
        source(body.when), name(), source(body.value), level(body.start));
  }
  std::string operator()(const dsl::StagesBody& body) const {
    std::vector<std::string> lines;
    for (const dsl::CheckedMove& move : body.moves)
      lines.push_back(dsl::one_line(compiled_.sources.text(move.place)));
    return fmt::format(
        "{} begins at {}. In every tick the first of these lines that applies to where it was "
        "one tick ago is taken, and if none does it stays: {}.",
        name(), element_.positions.front(), fmt::join(lines, "; "));
  }

  /// A value of the element in words.
  [[nodiscard]] std::string level(Value value) const {
    dsl::Sort sort{.kind = element_.type.kind,
                   .unit = element_.type.unit,
                   .decimals = element_.type.decimals,
                   .positions = {}};
    if (std::holds_alternative<dsl::ButtonBody>(element_.body)) {
      sort.positions = {"released", "pressed"};
    } else if (sort.kind == dsl::SortKind::condition) {
      sort.positions = {"off", "on"};
    } else if (sort.kind == dsl::SortKind::position) {
      sort.positions = compiled_.design->elements[element_.type.owner].positions;
    }
    return dsl::to_text(value, sort);
  }

 private:
  [[nodiscard]] const std::string& name() const { return element_.name; }
  [[nodiscard]] std::string source(const dsl::Term& term) const {
    return dsl::one_line(compiled_.sources.text(term.place));
  }
  [[nodiscard]] std::string time(Value ticks) const { return ticks_words(ticks, compiled_.design->tick_us); }
  static std::string any_of(const std::vector<std::string>& words) {
    return fmt::format("{}", fmt::join(words, " or "));
  }

  const dsl::Compiled& compiled_;
  const Element& element_;
};

const Element* find(const dsl::Compiled& compiled, const std::string& name) {
  const std::vector<Element>& all = compiled.design->elements;
  const auto found = std::find_if(all.begin(), all.end(),
                                  [&](const Element& one) { return !one.hidden && one.name == name; });
  return found == all.end() ? nullptr : &*found;
}

}  // namespace

std::string element_words(const dsl::Compiled& compiled, const std::string& name) {
  const Element* element = find(compiled, name);
  return element == nullptr ? "" : std::visit(ElementWords(compiled, *element), element->body);
}

std::string received_words(const dsl::Compiled& compiled, const std::string& name) {
  const Element* element = find(compiled, name);
  if (element == nullptr || !element->carriage) return "";
  const std::string& link = compiled.design->elements[element->carriage->link].name;
  const std::string lost = element->carriage->lost
                               ? ElementWords(compiled, *element).level(*element->carriage->lost)
                               : std::string("what was seen one tick ago");
  return fmt::format("What the design sees of {} is what the hand does; while the {} link is lost it is {}.",
                     name, link, lost);
}

}  // namespace detent::cli
