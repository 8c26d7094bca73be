// `detent faults FILE`: which claims still hold with a fault in the design.
#pragma once

#include "cli/result.hpp"
#include "cli/study_options.hpp"

namespace detent::cli {

[[nodiscard]] CommandResult faults(const FaultsOptions& options);

}  // namespace detent::cli
