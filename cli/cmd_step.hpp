// `detent step`: a design played by hand, at a terminal or by commands from a pipe.
#pragma once

#include "cli/options.hpp"
#include "cli/result.hpp"

namespace detent::cli {

/// Writes to standard output while it goes on; what is returned is only how it ends.
[[nodiscard]] CommandResult step(const StepOptions& options);

}  // namespace detent::cli
