// Plain words for values. Short, and the same word for the same thing everywhere.
#include "cli/words.hpp"

#include <fmt/format.h>

namespace detent::cli {
namespace {

using dsl::Signal;
using dsl::SortKind;

std::string value_words(const Signal& signal, Value value) {
  return dsl::to_text(value, signal.sort);
}

bool is_button(const Signal& signal) {
  return signal.element == "button";
}

bool is_switch(const Signal& signal) {
  return signal.element == "switch";
}

/// A condition that is always said with "on" and "off", as against "pressed" or "lost".
bool goes_on_and_off(const Signal& signal) {
  return signal.sort.kind == SortKind::condition && !is_button(signal) && !is_link(signal);
}

}  // namespace

std::string spoken_name(const Signal& signal) {
  return is_link(signal) ? fmt::format("the {} link", signal.name) : signal.name;
}

std::string list_words(const std::vector<std::string>& items, std::size_t most) {
  const std::size_t told = items.size() > most ? most : items.size();
  const std::size_t left = items.size() - told;
  std::string text;
  for (std::size_t i = 0; i < told; ++i) {
    const bool last = i + 1 == told && left == 0;
    if (i > 0) text += last ? " and " : ", ";
    text += items[i];
  }
  if (left > 0) text += fmt::format("{}{} more", told > 0 ? " and " : "", left);
  return text;
}

std::string count_words(std::size_t count, const std::string& noun) {
  return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
}

std::string ticks_words(Value ticks, std::int64_t tick_us) {
  return fmt::format("{} tick{} ({})", ticks, ticks == 1 ? "" : "s", dsl::time_text(ticks, tick_us));
}

std::string seconds_number(Value ticks, std::int64_t tick_us) {
  constexpr Value second = 1'000'000;
  const Value microseconds = ticks * tick_us;
  const Value part = microseconds % second;
  if (part == 0) return fmt::format("{}", microseconds / second);
  std::string text = fmt::format("{}.{:06}", microseconds / second, part);
  while (text.back() == '0') text.pop_back();
  return text;
}

std::string seconds_words(Value ticks, std::int64_t tick_us) {
  return seconds_number(ticks, tick_us) + " s";
}

std::string being_words(const Signal& signal, Value value) {
  return fmt::format("{}{}", is_switch(signal) ? "at " : "", value_words(signal, value));
}

std::string state_words(const Signal& signal, Value value) {
  return fmt::format("{} is {}", spoken_name(signal), being_words(signal, value));
}

std::string fresh_words(const Signal& signal, Value value) {
  if (is_link(signal))
    return fmt::format("{} has just {}", spoken_name(signal), value != 0 ? "been lost" : "come back");
  const std::string words = value_words(signal, value);
  if (is_button(signal)) return fmt::format("{} has just been {}", signal.name, words);
  return fmt::format("{} has just gone {}{}", signal.name, goes_on_and_off(signal) ? "" : "to ", words);
}

std::string change_words(const Signal& signal, Value value) {
  const bool bare = goes_on_and_off(signal);
  return fmt::format("{} goes {}{}", signal.name, bare ? "" : "to ", value_words(signal, value));
}

std::string verb_words(const Signal& signal, Value value) {
  if (is_link(signal)) return value != 0 ? "be lost" : "come back";
  const std::string words = value_words(signal, value);
  if (is_button(signal)) return "be " + words;
  if (is_switch(signal)) return "be turned to " + words;
  return fmt::format("go {}{}", goes_on_and_off(signal) ? "" : "to ", words);
}

std::string event_words(const Signal& signal, Value value) {
  if (moves_by_itself(signal)) return fate_words(signal, value);
  const std::string words = value_words(signal, value);
  if (is_button(signal)) return fmt::format("{} is {}", signal.name, words);
  if (is_switch(signal)) return fmt::format("{} is turned to {}", signal.name, words);
  return change_words(signal, value);
}

std::string past_event_words(const Signal& signal, Value value) {
  if (is_link(signal))
    return fmt::format("{} {}", spoken_name(signal), value != 0 ? "was lost" : "came back");
  const std::string words = value_words(signal, value);
  if (is_button(signal)) return fmt::format("{} was {}", signal.name, words);
  if (is_switch(signal)) return fmt::format("{} was turned to {}", signal.name, words);
  return fmt::format("{} went {}{}", signal.name, goes_on_and_off(signal) ? "" : "to ", words);
}

std::string move_words(const Signal& signal, Value value) {
  if (is_button(signal)) return fmt::format("{} {}", value != 0 ? "press" : "release", signal.name);
  const char* verb = is_switch(signal) ? "turn" : "move";
  return fmt::format("{} {} to {}", verb, signal.name, value_words(signal, value));
}

bool is_link(const Signal& signal) {
  return signal.element == "link" && signal.role == dsl::SignalRole::hand;
}

bool moves_by_itself(const Signal& signal) {
  return is_link(signal) || (signal.element == "contact" && signal.role == dsl::SignalRole::hand);
}

std::string fate_words(const Signal& signal, Value value) {
  if (!is_link(signal)) return fmt::format("{} {}", signal.name, value != 0 ? "bounces" : "is steady again");
  return fmt::format("the {} link {}", signal.name, value != 0 ? "is lost" : "comes back");
}

std::string hand_words(const Signal& signal, Value value, bool with_verb) {
  const bool at = is_switch(signal) || signal.sort.kind == SortKind::level;
  return fmt::format("{} {}{}{}", spoken_name(signal), with_verb ? "is " : "", at ? "at " : "",
                     value_words(signal, value));
}

std::string line_words(const dsl::Sources& sources, const dsl::Place& place) {
  if (place.file != 0) return place_words(sources, place);
  return fmt::format("line {}", sources.line_column(place).line);
}

std::string place_words(const dsl::Sources& sources, const dsl::Place& place) {
  return fmt::format("{}:{}", sources.name(place.file), sources.line_column(place).line);
}

}  // namespace detent::cli
