// Which steps of a bench list no hand can time well enough. Private to the list.
#pragma once

#include <functional>

#include "cli/drill_sheet.hpp"

namespace detent::cli {

/// The run with all that happens from this tick on so much later (or sooner).
[[nodiscard]] HandRun moved_along(HandRun run, Value from, Value by);

/// The run with the steps from tick `from` on timed so that as few as possible have to be exact, as far as
/// `good` says that it still does what it is for.
[[nodiscard]] solver::Run eased(const DrillStudy& study, const solver::Run& run, Value from,
                                const std::function<bool(const solver::Run&)>& good);

/// Fills in DrillStep::exact and hangs_on_exact.
void mark_timing(const DrillStudy& study, SheetRound& round);

}  // namespace detent::cli
