// What two designs are asked: which claims of one can be asked of the other, and which conditions the figures
// are about.
#pragma once

#include <optional>

#include "cli/compare_result.hpp"
#include "cli/options.hpp"

namespace detent::cli {

/// Fills in all of the result but the comparison itself; both texts must be free of errors. A message where
/// the command line or the two designs do not fit together.
[[nodiscard]] std::optional<CommandResult> plan_comparison(const CompareOptions& options,
                                                           CompareResult& result);

}  // namespace detent::cli
