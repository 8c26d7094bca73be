// The region of two tunables, drawn in characters. Private to the page.
#pragma once

#include "cli/page.hpp"
#include "cli/tune_study.hpp"

namespace detent::cli {

/// A row for each value of the first (the highest on top), a column for each of the second. Where there are
/// more than fit, a character stands for several values, and says so if they differ.
[[nodiscard]] Page region_picture(const TuneStudy& study, std::int64_t tick_us, const Terminal& terminal);

}  // namespace detent::cli
