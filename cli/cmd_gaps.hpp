// `detent gaps FILE`: what the claims of a design do not watch.
#pragma once

#include "cli/result.hpp"
#include "cli/study_options.hpp"

namespace detent::cli {

[[nodiscard]] CommandResult gaps(const StudyOptions& options);

}  // namespace detent::cli
