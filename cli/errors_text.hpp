// What goes to standard error where there is no report: the mistakes of the text, or assumptions that
// contradict each other.
#pragma once

#include "cli/check_result.hpp"
#include "cli/page.hpp"

namespace detent::cli {

/// Every diagnostic in order of place, and how many there are.
[[nodiscard]] Page errors_page(const dsl::Compiled& compiled, const Terminal& terminal);

/// For a report in which no run is left by the assumptions.
[[nodiscard]] Page contradiction_page(const CheckResult& result, const Terminal& terminal);

/// A diagnostic as lines of a page.
void add_diagnostic(Page& page, const dsl::Diagnostic& diagnostic, const dsl::Sources& sources);

}  // namespace detent::cli
