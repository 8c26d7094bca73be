// A comparison as a page for people.
#pragma once

#include "cli/compare_result.hpp"
#include "cli/compare_run.hpp"
#include "cli/page.hpp"

namespace detent::cli {

/// Head, what was matched, where the designs part and where they are the same, claims, figures, summary. The
/// comparison must be there and be free of contradictions.
[[nodiscard]] Page compare_page(const CompareResult& result, const CompareWishes& wishes,
                                const Terminal& terminal);

}  // namespace detent::cli
