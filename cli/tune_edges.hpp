// Both sides of each edge of what holds: proved just inside, a run just outside.
#pragma once

#include "cli/page.hpp"
#include "cli/tune_study.hpp"
#include "cli/tune_text.hpp"
#include "dsl/front.hpp"

namespace detent::cli {

/// The written values, where they fail, and the edges that are to be told.
[[nodiscard]] Page edges_page(const dsl::Compiled& compiled, const TuneStudy& study,
                              const TunePageWishes& wishes, const Terminal& terminal);

}  // namespace detent::cli
