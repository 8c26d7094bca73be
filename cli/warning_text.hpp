// Findings beside the verdicts: moves of a stage that overlap, and signals that never change.
#pragma once

#include "cli/check_result.hpp"
#include "cli/page.hpp"

namespace detent::cli {

/// The warnings of the text itself and those that the check found, each a block; empty if there are none.
[[nodiscard]] Page warnings_page(const CheckResult& result, const Terminal& terminal);

}  // namespace detent::cli
