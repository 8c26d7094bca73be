// Rows of digits said in the language itself, so that Z3 has to find what the interpreter is fed with.
#pragma once

#include <string>

#include "solver/verdict.hpp"
#include "tests/support/compiled.hpp"

namespace detent::test {

/// Declarations that make `now` the number of the tick, and assume that each input follows its row. Each
/// input must be a button.
[[nodiscard]] std::string pinned(const Rows& inputs);

/// A condition that is true at the ticks in which the row has a 1: "(now == 2 or now == 3)".
[[nodiscard]] std::string ticks_of_row(const std::string& row);

/// A claim that a condition follows its row up to the row's end.
[[nodiscard]] std::string follows(const std::string& claim, const std::string& condition,
                                  const std::string& row);

/// The verdict of the first claim of a design, within so many ticks. Throws std::runtime_error where the
/// assumptions leave no run at all, for then a verdict would mean nothing.
[[nodiscard]] solver::Verdict verdict_of(const std::string& text, dsl::Value within);

}  // namespace detent::test
