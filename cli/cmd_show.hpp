// `detent show`: what the program has read: the syntax tree, the circuit, or the signals.
#pragma once

#include "cli/options.hpp"
#include "cli/result.hpp"

namespace detent::cli {

[[nodiscard]] CommandResult show(const ShowOptions& options);

}  // namespace detent::cli
