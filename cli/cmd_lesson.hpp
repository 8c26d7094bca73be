// `detent lesson`: the lessons, one given, its designs written, or a design of one's own held against it.
#pragma once

#include "cli/options.hpp"
#include "cli/result.hpp"

namespace detent::cli {

[[nodiscard]] CommandResult lesson(const LessonOptions& options);

}  // namespace detent::cli
