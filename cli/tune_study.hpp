// A study of one tunable, or of two together: which values there are, what was found of each, and what is
// told of it. Plain results, for the page and for JSON.
#pragma once

#include <atomic>
#include <functional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "cli/result.hpp"
#include "dsl/front.hpp"
#include "dsl/tunables.hpp"
#include "solver/tune.hpp"

namespace detent::cli {

/// A tunable and the values that are looked at, ascending; the written one is among them.
struct TuneAxis {
  dsl::Tunable tunable;
  dsl::Value step = 1;
  std::vector<dsl::Value> values;
  std::size_t written = 0;  ///< index into `values`
};

/// Neighbours of one standing, [first, last], in a row.
struct TuneInterval {
  std::size_t first = 0, last = 0;  ///< points
  solver::Standing standing = solver::Standing::open;
};

struct TuneStudy {
  std::vector<TuneAxis> axes;  ///< the last one's values are the grid's columns, the first of two its rows
  solver::TuneGrid grid = {};
  solver::TuneReport report = {};
  std::vector<solver::Edge> edges = {};
  /// The edges that are told: all of a row; of two tunables the nearest to the written values in each
  /// direction.
  std::vector<solver::Edge> told = {};

  [[nodiscard]] const solver::PointFinding& at(std::size_t point) const { return report.points[point]; }
  [[nodiscard]] dsl::Value value(std::size_t axis, std::size_t point) const;
  [[nodiscard]] std::vector<dsl::Setting> settings(std::size_t point) const;
};

struct TuneResult {
  std::string file;  ///< as the user named it
  dsl::Compiled compiled;
  std::string allowed = {};  ///< how long each claim could take at each value, in words
  std::vector<TuneStudy> studies = {};
};

/// More values than that are refused.
inline constexpr std::size_t most_points = 10'000;
/// More edges than that are not told on a page.
inline constexpr std::size_t most_edges_told = 8;

/// The values to look at: from the written one in steps down and up to the ends of the range.
[[nodiscard]] TuneAxis axis_of(const dsl::Tunable& tunable, dsl::Value step);

/// How many values an axis would have.
[[nodiscard]] dsl::Value count_of_values(const dsl::Tunable& tunable, dsl::Value step);

/// A study of these axes in which nothing is decided.
[[nodiscard]] TuneStudy planned_study(std::vector<TuneAxis> axes);
/// Decides the points [first, second) of it.
void decide(TuneStudy& study, const dsl::Compiled& compiled, std::pair<std::size_t, std::size_t> points,
            const solver::TuneOptions& options);
/// What is to be told of a study when all is decided that will be: edges, and shortest runs for those that
/// are told.
void finish(TuneStudy& study, const dsl::Compiled& compiled, const solver::TuneOptions& options);
/// All of it.
[[nodiscard]] TuneStudy study(const dsl::Compiled& compiled, std::vector<TuneAxis> axes,
                              const solver::TuneOptions& options);

/// Neither open nor undecided.
[[nodiscard]] bool is_known(const solver::PointFinding& finding);

[[nodiscard]] std::vector<TuneInterval> intervals_of(const TuneStudy& study, std::size_t row);

/// The design at a point, and the errors if it is none.
[[nodiscard]] dsl::Tried design_at(const TuneStudy& study, const dsl::Compiled& compiled, std::size_t point);

/// Of the written values first; then whether anything is undecided.
[[nodiscard]] Status status_of(const TuneResult& result);

}  // namespace detent::cli
