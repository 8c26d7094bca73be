// The whole check as a page for a person.
#pragma once

#include "cli/check_result.hpp"
#include "cli/page.hpp"
#include "cli/verdict_text.hpp"

namespace detent::cli {

struct ReportWishes {
  BlockWishes block = {};
  bool statistics = false;
};

/// "Looked at: every run, of any length; up to 60 s for each claim."
[[nodiscard]] std::string reach_words(const CheckResult& result);

/// How the sum of all verdicts is meant.
[[nodiscard]] Style style_of(Status status);

/// For a design without errors that was checked.
[[nodiscard]] Page report_page(const CheckResult& result, const ReportWishes& wishes,
                               const Terminal& terminal);

}  // namespace detent::cli
