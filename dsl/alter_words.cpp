#include "dsl/alter_words.hpp"

#include <fmt/format.h>

#include <map>

namespace detent::dsl {
namespace {

/// A pulse of no time and a stage left before it is entered are no designs.
bool is_too_short(const Element& element, std::size_t timer, Value ticks) {
  const bool own = std::holds_alternative<PulseBody>(element.body)
                       ? timer == 0
                       : std::holds_alternative<StagesBody>(element.body);
  return ticks < (own ? 1 : 0);
}

}  // namespace

std::string level_text(const Type& type, Value value) {
  return to_text(value, Sort{.kind = SortKind::level, .unit = type.unit, .decimals = type.decimals});
}

std::string value_text(const Design& design, const Element& element, Value value) {
  if (element.type.kind == SortKind::level) {
    return level_text(element.type, value);
  }
  if (element.type.kind == SortKind::position) {
    return design.elements[element.type.owner].positions[static_cast<std::size_t>(value)];
  }
  const bool button = std::holds_alternative<ButtonBody>(element.body);
  return value != 0 ? (button ? "pressed" : "on") : (button ? "released" : "off");
}

void make_unique(std::vector<Alteration>& alterations) {
  std::map<std::string, int> met;
  for (Alteration& one : alterations) {
    if (const int count = ++met[one.name]; count > 1) {
      one.name += fmt::format(" ({})", count);
    }
  }
}

void add_times(const Design& design, std::size_t index, const std::function<Value(Value)>& change,
               const std::string& word, std::vector<Alteration>& list) {
  Element element = design.elements[index];  // a copy, to be looked through
  const std::vector<Value*> timers = timers_of(element.body);
  for (std::size_t timer = 0; timer < timers.size(); ++timer) {
    const Value ticks = *timers[timer];
    const Value changed = change(ticks);
    if (changed == ticks || is_too_short(element, timer, changed)) {
      continue;
    }
    list.push_back({.kind = AlterationKind::time,
                    .element = index,
                    .part = timer,
                    .value = changed,
                    .name = fmt::format("{} {} ({} for {})", element.name, word,
                                        time_text(changed, design.tick_us), time_text(ticks, design.tick_us)),
                    .place = element.place});
  }
}

void add_stuck(const Design& design, std::size_t index, const std::string& word,
               std::vector<Alteration>& list) {
  const Element& element = design.elements[index];
  const bool stages = element.type.kind == SortKind::position;
  const Value count = stages ? static_cast<Value>(design.elements[element.type.owner].positions.size()) : 2;
  for (Value value = count; value-- > 0;) {
    list.push_back({.kind = AlterationKind::stuck,
                    .element = index,
                    .value = value,
                    .name = fmt::format("{} {} {}{}", element.name, word, stages ? "at " : "",
                                        value_text(design, element, value)),
                    .place = element.place});
  }
}

}  // namespace detent::dsl
