// Tuning a text in tests, and the plain way to the same: every value written into the text, and checked.
#pragma once

#include <string>
#include <vector>

#include "cli/tune_study.hpp"

namespace detent::test {

struct Tuned {
  dsl::Compiled compiled;
  cli::TuneStudy study;
};

/// One tunable, or two together, on the finest grid. Throws std::runtime_error where the text is wrong or has
/// no such tunables.
[[nodiscard]] Tuned tuned(const std::string& text, const std::vector<std::string>& names, unsigned jobs = 2);

/// What checking that one text for all time says of all its claims together.
[[nodiscard]] solver::Standing standing_of_text(const std::string& text);

/// All occurrences of `old` replaced; throws std::runtime_error if there is none.
[[nodiscard]] std::string replaced(std::string text, const std::string& old, const std::string& with);

/// One letter a value: + holds, - fails, d no design, n no run, ? undecided or not looked at.
[[nodiscard]] std::string letters_of(const cli::TuneStudy& study);
[[nodiscard]] char letter_of(solver::Standing standing);

}  // namespace detent::test
