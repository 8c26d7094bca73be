// `detent report`: the check, and what is asked for besides, as one page to show.
#pragma once

#include "cli/options.hpp"
#include "cli/result.hpp"

namespace detent::cli {

[[nodiscard]] CommandResult write_report(const ReportOptions& options);

}  // namespace detent::cli
