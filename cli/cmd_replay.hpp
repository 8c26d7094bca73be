// `detent replay`: a log from a bench, held against the design.
#pragma once

#include "cli/options.hpp"
#include "cli/result.hpp"

namespace detent::cli {

[[nodiscard]] CommandResult replay(const ReplayOptions& options);

}  // namespace detent::cli
