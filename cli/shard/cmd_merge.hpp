// `detent merge SHARDS`: the answer of one run from what shards of it have found.
#pragma once

#include "cli/options.hpp"
#include "cli/result.hpp"

namespace detent::cli {

[[nodiscard]] CommandResult merge(const MergeOptions& options);

}  // namespace detent::cli
