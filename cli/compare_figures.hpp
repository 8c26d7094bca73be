// The figures of a comparison, in words.
#pragma once

#include <string>

#include "cli/compare_result.hpp"
#include "cli/compare_run.hpp"
#include "cli/page.hpp"

namespace detent::cli {

/// What a figure says: "fewest movements from power-up to the goal".
[[nodiscard]] std::string figure_name(solver::FigureKind kind);

/// "2 movements", "0.02 s (1 tick)", "never", "at least 3 s, how long is undecided".
[[nodiscard]] std::string figure_words(const solver::Figure& figure, std::int64_t tick_us);

/// All figures of both designs, why some are left out, and the runs that show them.
[[nodiscard]] Page figures_page(const CompareResult& result, const CompareWishes& wishes,
                                const Terminal& terminal);

}  // namespace detent::cli
