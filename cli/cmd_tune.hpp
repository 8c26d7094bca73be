// detent tune: for which values of its tunables the claims of a design hold.
#pragma once

#include "cli/options.hpp"
#include "cli/result.hpp"

namespace detent::cli {

[[nodiscard]] CommandResult tune(const TuneOptions& options);

}  // namespace detent::cli
