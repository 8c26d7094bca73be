// How alterations are called, and those of times, which faults and slips share. Private to the lists of them.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "dsl/alter.hpp"

namespace detent::dsl {

/// A value of an input or an element in words: "-98.5 %", "run", "pressed", "on".
[[nodiscard]] std::string value_text(const Design& design, const Element& element, Value value);
[[nodiscard]] std::string level_text(const Type& type, Value value);

/// Gives each its own name: a second one of a name becomes "NAME (2)".
void make_unique(std::vector<Alteration>& alterations);

/// One alteration for each of an element's times. `change` gives the new number of ticks; where that is too
/// short for its place, or no change, there is none. `word` says what it is: "too slow", "a tick longer".
void add_times(const Design& design, std::size_t index, const std::function<Value(Value)>& change,
               const std::string& word, std::vector<Alteration>& list);

/// The same element held for good at each value of a condition or stage.
void add_stuck(const Design& design, std::size_t index, const std::string& word,
               std::vector<Alteration>& list);

}  // namespace detent::dsl
