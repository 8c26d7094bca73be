#include "cli/tune_study.hpp"

#include <algorithm>
#include <set>

namespace detent::cli {
namespace {

using dsl::Value;
using solver::Edge;
using solver::Standing;

solver::TuneGrid grid_of(const std::vector<TuneAxis>& axes) {
  solver::TuneGrid grid{.columns = axes.back().values.size(), .written = axes.back().written};
  if (axes.size() == 2) {
    grid.rows = axes.front().values.size();
    grid.written += axes.front().written * grid.columns;
  }
  return grid;
}

/// By how many ticks the times differ, each by itself and both together.
std::vector<Value> growth_of(const TuneStudy& study, std::size_t from, std::size_t to) {
  std::vector<Value> growth;
  Value sum = 0;
  for (std::size_t axis = 0; axis < study.axes.size(); ++axis) {
    if (!study.axes[axis].tunable.is_time) continue;
    growth.push_back(study.value(axis, to) - study.value(axis, from));
    sum += growth.back();
  }
  if (growth.size() > 1) growth.push_back(sum);
  return growth;
}

std::size_t distance(const solver::TuneGrid& grid, std::size_t a, std::size_t b) {
  const auto apart = [](std::size_t x, std::size_t y) { return x > y ? x - y : y - x; };
  return apart(a / grid.columns, b / grid.columns) + apart(a % grid.columns, b % grid.columns);
}

/// Of two tunables: in the row and the column of the written values, the edge nearest to them on each side.
std::vector<Edge> nearest_edges(const TuneStudy& study) {
  const solver::TuneGrid& grid = study.grid;
  const std::size_t row = grid.written / grid.columns;
  const std::size_t column = grid.written % grid.columns;
  std::vector<Edge> nearest;
  for (const bool across : {false, true}) {
    for (const bool up : {false, true}) {
      const Edge* best = nullptr;
      for (const Edge& edge : study.edges) {
        const bool same_row = edge.inside / grid.columns == row && edge.outside / grid.columns == row;
        const bool same_column =
            edge.inside % grid.columns == column && edge.outside % grid.columns == column;
        const std::size_t low = std::min(edge.inside, edge.outside);
        if (!(across ? same_column : same_row) || (low >= grid.written) != up) continue;
        const bool nearer = best == nullptr || distance(grid, edge.inside, grid.written) <
                                                   distance(grid, best->inside, grid.written);
        if (nearer) best = &edge;
      }
      if (best != nullptr) nearest.push_back(*best);
    }
  }
  return nearest;
}

void shorten(TuneStudy& study, const dsl::Compiled& compiled, const solver::TuneOptions& options) {
  std::set<std::size_t> points{study.grid.written};
  for (const Edge& edge : study.told) points.insert(edge.outside);
  for (const std::size_t point : points) {
    solver::PointFinding& finding = study.report.points[point];
    if (finding.standing != Standing::fails || !finding.run) continue;
    if (const dsl::Tried tried = design_at(study, compiled, point); tried.model) {
      finding = solver::with_shortest_run(*tried.model, finding, options);
    }
  }
}

}  // namespace

bool is_known(const solver::PointFinding& finding) {
  return finding.standing != Standing::open && finding.standing != Standing::undecided;
}

Value TuneStudy::value(std::size_t axis, std::size_t point) const {
  const bool rows = axes.size() == 2 && axis == 0;
  return axes[axis].values[rows ? point / grid.columns : point % grid.columns];
}

std::vector<dsl::Setting> TuneStudy::settings(std::size_t point) const {
  std::vector<dsl::Setting> all;
  for (std::size_t axis = 0; axis < axes.size(); ++axis) {
    all.push_back({&axes[axis].tunable, value(axis, point)});
  }
  return all;
}

Value count_of_values(const dsl::Tunable& tunable, Value step) {
  return (tunable.written - tunable.low) / step + (tunable.high - tunable.written) / step + 1;
}

TuneAxis axis_of(const dsl::Tunable& tunable, Value step) {
  TuneAxis axis{.tunable = tunable, .step = step, .values = {}};
  const Value below = (tunable.written - tunable.low) / step;
  for (Value value = tunable.written - below * step; value <= tunable.high; value += step) {
    axis.values.push_back(value);
  }
  axis.written = static_cast<std::size_t>(below);
  return axis;
}

dsl::Tried design_at(const TuneStudy& study, const dsl::Compiled& compiled, std::size_t point) {
  return dsl::with_values(compiled.tree, compiled.sources, study.settings(point));
}

TuneStudy planned_study(std::vector<TuneAxis> axes) {
  TuneStudy study{.axes = std::move(axes)};
  study.grid = grid_of(study.axes);
  study.report.points.resize(study.grid.points());
  return study;
}

void decide(TuneStudy& study, const dsl::Compiled& compiled, std::pair<std::size_t, std::size_t> points,
            const solver::TuneOptions& options) {
  std::vector<bool> wanted(study.grid.points(), false);
  for (std::size_t point = points.first; point < points.second; ++point) wanted[point] = true;
  const solver::TuneTask task{
      .grid = study.grid,
      .model_at = [&](std::size_t point) { return design_at(study, compiled, point).model; },
      .growth = [&](std::size_t from, std::size_t to) { return growth_of(study, from, to); },
      .wanted = std::move(wanted)};
  study.report = solver::tune(task, options);
}

void finish(TuneStudy& study, const dsl::Compiled& compiled, const solver::TuneOptions& options) {
  study.edges = solver::edges_of(study.grid, study.report.points);
  study.told = study.axes.size() == 2 ? nearest_edges(study) : study.edges;
  if (study.told.size() > most_edges_told) study.told.resize(most_edges_told);
  shorten(study, compiled, options);
}

TuneStudy study(const dsl::Compiled& compiled, std::vector<TuneAxis> axes,
                const solver::TuneOptions& options) {
  TuneStudy study = planned_study(std::move(axes));
  decide(study, compiled, {0, study.grid.points()}, options);
  finish(study, compiled, options);
  return study;
}

std::vector<TuneInterval> intervals_of(const TuneStudy& study, std::size_t row) {
  std::vector<TuneInterval> intervals;
  for (std::size_t column = 0; column < study.grid.columns; ++column) {
    const std::size_t point = row * study.grid.columns + column;
    const Standing standing = study.at(point).standing;
    if (intervals.empty() || intervals.back().standing != standing) {
      intervals.push_back({point, point, standing});
    } else {
      intervals.back().last = point;
    }
  }
  return intervals;
}

Status status_of(const TuneResult& result) {
  if (result.studies.empty()) return Status::input_wrong;
  bool all_known = true;
  for (const TuneStudy& study : result.studies) {
    const Standing written = study.at(study.grid.written).standing;
    if (written == Standing::no_run) return Status::input_wrong;
    if (written == Standing::fails) return Status::refuted;
    all_known = all_known && std::all_of(study.report.points.begin(), study.report.points.end(), is_known);
  }
  return all_known ? Status::all_hold : Status::undecided;
}

}  // namespace detent::cli
