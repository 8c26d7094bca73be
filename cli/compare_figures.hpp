// The figures of a comparison, in words.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "cli/compare_result.hpp"
#include "cli/compare_run.hpp"
#include "cli/page.hpp"

namespace detent::cli {

/// What a figure says: "fewest movements from power-up to the goal".
[[nodiscard]] std::string figure_name(solver::FigureKind kind);

/// What one design's figure says, or why it is left out.
[[nodiscard]] Span figure_answer(const CompareResult& result, const solver::Figure& figure, std::size_t side);

/// What the figures are about: "the goal:" and "live"; what neither design has is left out.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> figure_conditions(const CompareResult& result);

/// All figures of both designs, why some are left out, and the runs that show them.
[[nodiscard]] Page figures_page(const CompareResult& result, const CompareWishes& wishes,
                                const Terminal& terminal);

}  // namespace detent::cli
