// Findings beside the verdicts: moves of a stage that overlap, and signals that never change.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/check_result.hpp"
#include "cli/page.hpp"

namespace detent::cli {

/// What a check noticed besides its verdicts.
struct Finding {
  const char* kind = "";   ///< a word for programs: "overlap", "never-changes", "too-short"
  const char* title = "";  ///< what all of this kind have in common
  std::string words = {};
  dsl::Place place = {};                       ///< in no file where it is about the whole check
  std::optional<dsl::Place> other = {};        ///< of an overlap: the second line
  const solver::OverlapFinding* overlap = {};  ///< of an overlap: its run; part of the result
};

/// All of them, for a check that has a report.
[[nodiscard]] std::vector<Finding> findings(const CheckResult& result);

/// The warnings of the text itself and those that the check found, each a block; empty if there are none.
[[nodiscard]] Page warnings_page(const CheckResult& result, const Terminal& terminal);

}  // namespace detent::cli
