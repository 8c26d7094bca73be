// For which values of a design's tunables do all claims hold? Each value is decided by evidence for that very
// value. This layer knows no texts: it is given a function that makes the model for a value.
#pragma once

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "dsl/model.hpp"
#include "solver/cancel.hpp"
#include "solver/verdict.hpp"

namespace detent::solver {

/// The values to decide, in a row or in rows: point `row * columns + column`. `written` is decided first.
struct TuneGrid {
  std::size_t rows = 1;     ///< at least 1
  std::size_t columns = 1;  ///< at least 1
  std::size_t written = 0;  ///< the point of the values that are written in the design
  /// How many there are.
  [[nodiscard]] std::size_t points() const { return rows * columns; }
};

/// What there is to decide. All functions may be called from several threads at once.
struct TuneTask {
  TuneGrid grid;  ///< the points
  /// The model at a point; nothing where the values make no design. Models of all points have the same
  /// claims.
  std::function<std::optional<dsl::Model>(std::size_t point)> model_at;
  /// By how many ticks times of the design grow from one point to another: used to stretch runs, and only
  /// to save questions. May be empty.
  std::function<std::vector<Value>(std::size_t from, std::size_t to)> growth = {};
  /// Whether a point is to be decided; the others stay open. Empty: all are.
  std::vector<bool> wanted = {};
};

/// What is known of a value.
enum class Standing {
  open,       ///< not looked at: it was stopped before
  holds,      ///< all safety claims proved for all time, all `possible` claims shown
  fails,      ///< a claim is refuted: `claim`, and `run` (none where a `possible` claim is proved impossible)
  no_design,  ///< the values make the text wrong
  no_run,     ///< the assumptions contradict each other, so that no claim means anything
  undecided,  ///< a limit was reached first: `claim`, `limit`
};

/// What is known of a value, and by which evidence.
struct PointFinding {
  Standing standing = Standing::open;  ///< says which of the rest are there
  /// Index into Model::claims. Of claims that fail here the first in order of declaration, unless a limit was
  /// reached before an earlier one was decided.
  std::uint32_t claim = 0;
  std::optional<Run> run = {};  ///< fails: of the model at this point
  bool shortest = false;  ///< the run is a shortest one, not one that was carried over from another point
  /// Of a `possible` claim that fails: no run of any length does it; else none of so many ticks, its own
  /// bound.
  bool for_all_time = false;
  Value ticks = 0;            ///< fails: see `for_all_time`
  Limit limit = Limit::none;  ///< undecided: why
  /// holds: claims whose condition can never be met at this value, so that they say nothing.
  std::vector<std::uint32_t> vacuous = {};
  /// holds: the number of values for which the widest proof that it rests on is one; 1: each is its own.
  std::size_t together = 1;
};

/// How far it has come.
struct TuneProgress {
  std::size_t decided = 0;  ///< points that are done; only grows
  std::size_t points = 0;   ///< all of them
};

/// How far to go, and who is told.
struct TuneOptions {
  std::optional<std::chrono::milliseconds> timeout = {};   ///< for each claim at each point
  std::optional<std::size_t> memory_mib = {};              ///< what Z3 may use; see check_forever
  Cancel cancel = {};                                      ///< whether to stop
  std::function<void(const TuneProgress&)> progress = {};  ///< from several threads, one at a time
  unsigned jobs = 1;                                       ///< threads, at least 1
};

/// What it cost.
struct TuneStatistics {
  std::uint64_t asked = 0;     ///< claims that Z3 was asked about
  std::uint64_t shared = 0;    ///< claims whose circuit had been decided at another point
  std::uint64_t carried = 0;   ///< points decided by a run that was found at another point
  std::uint64_t together = 0;  ///< claims, value by value, that were proved for many values at once
  double seconds = 0;          ///< from beginning to end, by the clock on the wall
};

/// What is known of every value.
struct TuneReport {
  std::vector<PointFinding> points;  ///< by point
  TuneStatistics statistics;         ///< of all of it
};

/// Decides every point. Never throws for limits. Throws InternalDisagreement, and what functions of the task
/// throw. Threads: as for check_forever.
[[nodiscard]] TuneReport tune(const TuneTask& task, const TuneOptions& options);

/// The finding with a run of the fewest events in the place of its own; the finding itself if that can't be
/// had within the limits. The claim is asked by itself, so that the run does not hang on what else was asked
/// before. Throws InternalDisagreement.
[[nodiscard]] PointFinding with_shortest_run(const dsl::Model& model, const PointFinding& finding,
                                             const TuneOptions& options);

/// Points beside each other (in a row; with more than one row in a column too), one of which holds and the
/// other not: the edges of what holds.
struct Edge {
  std::size_t inside = 0;   ///< the point that holds
  std::size_t outside = 0;  ///< the point that does not
};
/// All of them.
[[nodiscard]] std::vector<Edge> edges_of(const TuneGrid& grid, const std::vector<PointFinding>& points);

}  // namespace detent::solver
