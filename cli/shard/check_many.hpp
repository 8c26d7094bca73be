// `detent check A B C`, and `detent check … --shard K/N`.
#pragma once

#include "cli/options.hpp"
#include "cli/result.hpp"
#include "cli/settings.hpp"

namespace detent::cli {

/// CheckOptions::files are the designs; there is at least one.
[[nodiscard]] CommandResult check_many(const CheckOptions& options, const Settings& settings);

}  // namespace detent::cli
