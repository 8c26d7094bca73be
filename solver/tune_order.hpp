// In which order the values are decided, and where what holds ends. Private to solver/tune.cpp.
#pragma once

#include <optional>
#include <vector>

#include "solver/tune.hpp"

namespace detent::solver {

/// The point to decide next: the middle between two neighbours of which one holds and the other not, so that
/// edges are narrowed down first; then the middle of the longest gap. Points that are `taken` are being
/// decided.
[[nodiscard]] std::optional<std::size_t> next_point(const TuneGrid& grid,
                                                    const std::vector<PointFinding>& points,
                                                    const std::vector<bool>& taken);

/// The nearest points, in the row and the column of `point`, that fail with a run.
[[nodiscard]] std::vector<std::size_t> nearest_runs(const TuneGrid& grid,
                                                    const std::vector<PointFinding>& points,
                                                    std::size_t point);

}  // namespace detent::solver
