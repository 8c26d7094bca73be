// Writing to the process's own streams, where a reader may have gone away.
#pragma once

#include "cli/result.hpp"

namespace detent::cli {

/// Writes both texts and returns the exit status: the result's own, or input_wrong where it would be success
/// but the output could not be written.
[[nodiscard]] int deliver(const CommandResult& result);

}  // namespace detent::cli
