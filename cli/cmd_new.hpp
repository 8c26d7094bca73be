// `detent new`: a starting design of one's own, made from a safety function that comes with the program.
#pragma once

#include "cli/options.hpp"
#include "cli/result.hpp"

namespace detent::cli {

[[nodiscard]] CommandResult new_design(const NewOptions& options);

}  // namespace detent::cli
