// The words in which signals, their values and stretches of time are said to a person.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "dsl/model.hpp"

namespace detent::cli {

using dsl::Value;

/// "a", "a and b", "a, b and c"; of more than `most` the rest is counted: "a, b and 5 more".
[[nodiscard]] std::string list_words(const std::vector<std::string>& items, std::size_t most = 1000);

/// "1 claim", "3 claims".
[[nodiscard]] std::string count_words(std::size_t count, const std::string& noun);

/// "850 ticks (17 s)".
[[nodiscard]] std::string ticks_words(Value ticks, std::int64_t tick_us);

/// Exact seconds without a unit: "0", "0.02", "8.02", "125".
[[nodiscard]] std::string seconds_number(Value ticks, std::int64_t tick_us);

/// The same with the unit: "8.02 s". One unit for all times of a story, so that they can be compared.
[[nodiscard]] std::string seconds_words(Value ticks, std::int64_t tick_us);

/// "live", "the radio link".
[[nodiscard]] std::string spoken_name(const dsl::Signal& signal);

/// "at run", "35 %", "pressed", "lost", "on".
[[nodiscard]] std::string being_words(const dsl::Signal& signal, Value value);

/// "guard is at run", "thrust is 35 %", "stop is pressed", "the radio link is lost", "live is on".
[[nodiscard]] std::string state_words(const dsl::Signal& signal, Value value);

/// The same for a value that is one tick old at most: "live has just gone on".
[[nodiscard]] std::string fresh_words(const dsl::Signal& signal, Value value);

/// How a computed signal moves: "live goes on", "arming goes to primed", "jet goes to 35 %".
[[nodiscard]] std::string change_words(const dsl::Signal& signal, Value value);

/// What a signal does when it gets this value: "go on", "be pressed", "be turned to run", "come back".
[[nodiscard]] std::string verb_words(const dsl::Signal& signal, Value value);

/// That as an event: "live goes on", "stop is pressed", "guard is turned to run", "the radio link comes
/// back".
[[nodiscard]] std::string event_words(const dsl::Signal& signal, Value value);

/// And as one of the past: "live went on", "stop was pressed", "the radio link came back".
[[nodiscard]] std::string past_event_words(const dsl::Signal& signal, Value value);

/// What a hand does: "press stop", "move thrust to 35 %", "turn guard to run".
[[nodiscard]] std::string move_words(const dsl::Signal& signal, Value value);

[[nodiscard]] bool is_link(const dsl::Signal& signal);

/// A link, or the contact of a switch that bounces: it moves, but no hand moves it.
[[nodiscard]] bool moves_by_itself(const dsl::Signal& signal);

/// "the radio link is lost", "the radio link comes back", "stop contact bounces".
[[nodiscard]] std::string fate_words(const dsl::Signal& signal, Value value);

/// Where a hand rests: "guard is at safe", or without the verb "guard at safe", "stop released".
[[nodiscard]] std::string hand_words(const dsl::Signal& signal, Value value, bool with_verb);

/// "line 28" of the main file, which the page names at its top; `file:line` elsewhere.
[[nodiscard]] std::string line_words(const dsl::Sources& sources, const dsl::Place& place);

/// `file:line` of a place.
[[nodiscard]] std::string place_words(const dsl::Sources& sources, const dsl::Place& place);

}  // namespace detent::cli
