// The last net: what must not happen ends in a message and a status, never in a verdict or a crash.
#pragma once

#include <functional>

#include "cli/result.hpp"

namespace detent::cli {

/// The command's answer; where it throws, a message: a fault of this program (4), or no memory left (3).
[[nodiscard]] CommandResult guarded(const std::function<CommandResult()>& command);

}  // namespace detent::cli
