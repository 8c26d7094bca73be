#include "solver/tune_order.hpp"

#include <functional>
#include <tuple>

namespace detent::solver {
namespace {

/// A row or a column.
struct GridLine {
  std::size_t first = 0, stride = 1, length = 0;
  [[nodiscard]] std::size_t at(std::size_t index) const { return first + index * stride; }
};

std::vector<GridLine> lines_of(const TuneGrid& grid) {
  std::vector<GridLine> lines;
  for (std::size_t row = 0; row < grid.rows; ++row) lines.push_back({row * grid.columns, 1, grid.columns});
  if (grid.rows > 1) {
    for (std::size_t column = 0; column < grid.columns; ++column) {
      lines.push_back({column, grid.columns, grid.rows});
    }
  }
  return lines;
}

/// Open points [begin, end) of a line, and whether the points at both sides are known.
struct Gap {
  std::size_t begin = 0, end = 0;
  bool edge = false;  ///< one side holds, the other not
};

/// The first open point that nobody has taken, from the middle outwards; at the end of a line from that end.
std::optional<std::size_t> middle_of(const GridLine& line, const Gap& gap, const std::vector<bool>& taken) {
  const bool from_start = gap.begin == 0 && gap.end < line.length;
  const bool from_end = gap.end == line.length && gap.begin > 0;
  const std::size_t size = gap.end - gap.begin;
  const std::size_t start = from_start ? 0 : from_end ? size - 1 : (size - 1) / 2;
  for (std::size_t away = 0; away < size; ++away) {
    if (start + away < size && !taken[line.at(gap.begin + start + away)]) {
      return line.at(gap.begin + start + away);
    }
    if (away <= start && !taken[line.at(gap.begin + start - away)]) {
      return line.at(gap.begin + start - away);
    }
  }
  return {};
}

void each_gap(const GridLine& line, const std::vector<PointFinding>& points,
              const std::function<void(const Gap&)>& visit) {
  const auto standing = [&](std::size_t index) { return points[line.at(index)].standing; };
  for (std::size_t begin = 0; begin < line.length;) {
    if (standing(begin) != Standing::open) {
      ++begin;
      continue;
    }
    std::size_t end = begin;
    while (end < line.length && standing(end) == Standing::open) ++end;
    const bool between = begin > 0 && end < line.length;
    const bool edge =
        between && (standing(begin - 1) == Standing::holds) != (standing(end) == Standing::holds);
    visit({begin, end, edge});
    begin = end;
  }
}

/// The first point at or beyond `index`, in one direction, that fails with a run.
std::optional<std::size_t> run_along(const GridLine& line, const std::vector<PointFinding>& points,
                                     std::size_t index, bool up) {
  while (up ? index + 1 < line.length : index > 0) {
    index = up ? index + 1 : index - 1;
    if (points[line.at(index)].run) return line.at(index);
  }
  return {};
}

}  // namespace

std::optional<std::size_t> next_point(const TuneGrid& grid, const std::vector<PointFinding>& points,
                                      const std::vector<bool>& taken) {
  std::optional<std::size_t> best;
  std::tuple<bool, std::size_t> best_worth{false, 0};
  for (const GridLine& line : lines_of(grid)) {
    each_gap(line, points, [&](const Gap& gap) {
      const std::tuple worth{gap.edge, gap.end - gap.begin};
      if (best && worth <= best_worth) return;
      if (const auto middle = middle_of(line, gap, taken)) {
        best = middle;
        best_worth = worth;
      }
    });
  }
  return best;
}

std::vector<std::size_t> nearest_runs(const TuneGrid& grid, const std::vector<PointFinding>& points,
                                      std::size_t point) {
  const std::size_t row = point / grid.columns;
  const std::size_t column = point % grid.columns;
  const GridLine along_row{row * grid.columns, 1, grid.columns};
  const GridLine along_column{column, grid.columns, grid.rows};
  std::vector<std::size_t> found;
  for (const bool up : {false, true}) {
    if (const auto near = run_along(along_row, points, column, up)) found.push_back(*near);
    if (const auto near = run_along(along_column, points, row, up)) found.push_back(*near);
  }
  return found;
}

std::vector<Edge> edges_of(const TuneGrid& grid, const std::vector<PointFinding>& points) {
  std::vector<Edge> edges;
  for (const GridLine& line : lines_of(grid)) {
    for (std::size_t index = 0; index + 1 < line.length; ++index) {
      const std::size_t low = line.at(index), high = line.at(index + 1);
      const bool low_holds = points[low].standing == Standing::holds;
      const bool high_holds = points[high].standing == Standing::holds;
      if (low_holds != high_holds) edges.push_back(low_holds ? Edge{low, high} : Edge{high, low});
    }
  }
  return edges;
}

}  // namespace detent::solver
