// What a design file says about its own verdicts, in comment lines:
//   // expect NAME: holds                   (also: holds, vacuous; undecided; refuted)
//   // expect NAME: refuted at tick 4       the violation is in tick 4 of the shortest run
//   // expect NAME: shown at tick 2
//   // expect warning: never_changes        a code of dsl/diagnostics.def, one line for each warning
//   // check within 600 ticks
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "solver/verdict.hpp"

namespace detent::test {

struct Expectation {
  std::string claim;
  std::string verdict;
  std::size_t line = 0;
};

struct Expectations {
  std::vector<Expectation> verdicts;
  std::vector<std::string> warnings = {};  ///< sorted
  std::optional<std::string> within = {};  ///< as --within takes it
  std::vector<std::string> problems = {};  ///< lines that begin like an expectation and are none
};

[[nodiscard]] Expectations read_expectations(std::string_view text);

/// A verdict in the words of the file.
[[nodiscard]] std::string verdict_words(const solver::Verdict& verdict);

}  // namespace detent::test
