// `detent check`: every claim of a design, over every run up to a bound.
#pragma once

#include "cli/options.hpp"
#include "cli/result.hpp"

namespace detent::cli {

[[nodiscard]] CommandResult check(const CheckOptions& options);

}  // namespace detent::cli
