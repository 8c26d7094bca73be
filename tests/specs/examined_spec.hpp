// One design file, compiled, checked, and compared with what it says of itself.
#pragma once

#include <string>
#include <vector>

#include "dsl/front.hpp"
#include "tests/support/expectations.hpp"

namespace detent::test {

struct ExaminedSpec {
  std::string path;
  bool only_parts = false;  ///< nothing but parts, for others to include: nothing to check
  std::vector<std::string> includes = {};
  std::vector<std::string> claims = {};  ///< name, sentence and wording of each
  Expectations expected = {};
  std::string text = {};                   ///< of the file itself
  std::vector<std::string> problems = {};  ///< each in words; none: all is as the file says
  double seconds = 0;                      ///< that the check took
};

/// Files are read with `read`. Never throws for what is in them.
[[nodiscard]] ExaminedSpec examine(const std::string& path, const dsl::FileReader& read);

/// What differs between the verdicts of a report and the expectations, in words.
[[nodiscard]] std::vector<std::string> differences(const dsl::Model& model, const solver::Report& report,
                                                   const Expectations& expected);

/// What is wrong with a run that is to make `watch` true in its last tick and not before, in words or "".
/// Replayed on the interpreter here, whatever the engine says of its own runs.
[[nodiscard]] std::string run_problem(const dsl::Model& model, const dsl::Claim& claim,
                                      const solver::Run& run);

}  // namespace detent::test
