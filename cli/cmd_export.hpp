// `detent export`: a check, a run, a question or a picture in the form that another program reads.
#pragma once

#include "cli/options.hpp"
#include "cli/result.hpp"

namespace detent::cli {

[[nodiscard]] CommandResult export_as(const ExportOptions& options);

}  // namespace detent::cli
