// A check as SARIF 2.1.0 (OASIS, "Static Analysis Results Interchange Format"), for build servers and
// editors.
#pragma once

#include <string>
#include <vector>

#include "cli/check_result.hpp"

namespace detent::cli {

/// One log with a run for each design, indented, with a line end. Each claim is a rule and a result: kind
/// `pass`, `open` (undecided), `notApplicable` (proved up to a bound, and its condition never came true) or
/// `fail`; with its run as a code flow. Mistakes and warnings of the text are results too. Where nothing was
/// checked (a text with errors, assumptions that contradict each other) executionSuccessful is false, and a
/// notification says so.
[[nodiscard]] std::string sarif_text(const std::vector<const CheckResult*>& results);

}  // namespace detent::cli
