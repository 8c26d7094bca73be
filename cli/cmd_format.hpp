// `detent format`: designs laid out afresh, in place.
#pragma once

#include "cli/options.hpp"
#include "cli/result.hpp"

namespace detent::cli {

/// Each file by itself: one that can't be read or written does not keep the others from being laid out.
[[nodiscard]] CommandResult format_files(const FormatOptions& options);

}  // namespace detent::cli
