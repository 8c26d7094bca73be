// `detent drill`: a design as a list to work through at the bench.
#pragma once

#include "cli/options.hpp"
#include "cli/result.hpp"

namespace detent::cli {

[[nodiscard]] CommandResult drill(const DrillOptions& options);

}  // namespace detent::cli
