// The bench list as files: Markdown, a page to print, and a table to be filled in. Private to `detent drill`.
#pragma once

#include <string>

#include "cli/drill_sheet.hpp"
#include "cli/drill_study.hpp"
#include "cli/result.hpp"
#include "dsl/front.hpp"

namespace detent::cli {

struct DrillReport {
  std::string file;
  dsl::Compiled compiled;
  DrillStudy study;
  std::vector<SheetRound> sheet;
  solver::Mcdc variant = solver::Mcdc::unique_cause;
  bool changes = true;    ///< small changes were looked at
  bool elements = false;  ///< elements are told beside outputs
};

[[nodiscard]] std::string drill_markdown(const DrillReport& report);
[[nodiscard]] std::string drill_html(const DrillReport& report);
/// One round, with empty columns for what is seen; `filled`: with what is expected in them, as a device would
/// have it that does all as it should.
[[nodiscard]] std::string drill_csv(const DrillReport& report, std::size_t round, bool filled);
[[nodiscard]] std::string drill_json(const DrillReport& report, Status status);

/// 0 everything is part of the list or proved out of reach, 3 something is neither.
[[nodiscard]] Status status_of(const DrillReport& report);

}  // namespace detent::cli
