// What goes to standard error where there is no report: the mistakes of the text, or assumptions that
// contradict each other.
#pragma once

#include "cli/check_result.hpp"
#include "cli/page.hpp"

namespace detent::cli {

/// On a page; JSON has all.
inline constexpr std::size_t most_diagnostics_shown = 50;

/// Diagnostics in order of place, at most most_diagnostics_shown (errors first, if there are more), and how
/// many there are.
[[nodiscard]] Page errors_page(const dsl::Compiled& compiled, const Terminal& terminal);

/// For a report in which no run is left by the assumptions.
[[nodiscard]] Page contradiction_page(const CheckResult& result, const Terminal& terminal);

/// So many as may be shown, as lines of a page, and how many more there are.
void add_diagnostics(Page& page, const dsl::Diagnostics& diagnostics, const dsl::Sources& sources,
                     const Terminal& terminal);

/// A diagnostic as lines of a page.
void add_diagnostic(Page& page, const dsl::Diagnostic& diagnostic, const dsl::Sources& sources);

}  // namespace detent::cli
