// Rows of ticks as the reference page writes them, followed by the interpreter:
//
//   nudge   0110000            a condition: 1 on, 0 off (blanks between the digits do not count)
//   guard   safe run run       a switch or stages: its words
//   thrust  -100 -99.5 0       a level or a count: numbers, without the unit
//
// Rows of inputs are given, rows of all else expected. Each input has a row.
#pragma once

#include <string>
#include <vector>

#include "dsl/model.hpp"

namespace detent::test {

/// What goes wrong, one sentence a row; empty where all rows are followed. Throws std::runtime_error where
/// the rows themselves make no sense.
[[nodiscard]] std::vector<std::string> departures(const dsl::Model& model, const std::string& rows);

}  // namespace detent::test
