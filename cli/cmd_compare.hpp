// `detent compare`: two designs side by side.
#pragma once

#include "cli/options.hpp"
#include "cli/result.hpp"

namespace detent::cli {

[[nodiscard]] CommandResult compare(const CompareOptions& options);

}  // namespace detent::cli
