// Which values hold is found by deciding every value; nothing is concluded from an edge.
// Whether a claim holds need not be monotone in a value (a window must be long enough to act in and short
// enough to be safe; a blinking lamp may miss a moment at every second value), so that edges found by
// bisection alone would be guesses. What decides a value is one of
//
//   - a run of the design at that value, played on the interpreter, that breaks a claim;
//   - a proof that no run of that design does a `possible` claim;
//   - for each claim, a proof for all time on that design, or one for a set of values that it is among, in
//   which
//     the value is an unknown; or the run that a `possible` claim asks for.
//
// What makes that cheaper than asking Z3 of every claim at every value:
//
//   - Claims that are the same at several values, node by node, are one question (solver/tune_board.cpp).
//   - What is decided at one value is spread to all that are alike but for numbers, with the value as an
//   unknown
//     of Z3 (solver/tune_spread.cpp): runs at any value, and one proof for all values that are left.
//   - A run found at one value is played at all values that are still open, and where it breaks nothing it is
//     played with its quiet stretches changed by as much as the values differ (solver/tune_runs.cpp). A
//     replayed violation is evidence as good as one that Z3 found, only not always the shortest.
//     Only where Z3 has been asked about a design with the same assumptions: a short run proves nothing of
//     assumptions that leave no longer one.
//   - Values are taken between a neighbour that holds and one that does not first, so that edges are known
//     early, and Z3 is asked where runs of either side are nearest.
//
// Which claim breaks first at a value that fails hangs on this order, and on time. So that the answer does
// not, the claims declared before it are decided as well, when all values are: by then most of them are known
// from values that hold. The finding names the first that breaks.
#include "solver/tune.hpp"

#include <algorithm>
#include <exception>
#include <mutex>
#include <thread>
#include <utility>

#include "solver/forever.hpp"
#include "solver/limits.hpp"
#include "solver/memory_limit.hpp"
#include "solver/tune_board.hpp"
#include "solver/tune_runs.hpp"
#include "solver/tune_spread.hpp"

namespace detent::solver {
namespace {

using dsl::Model;
using Turn = TuneBoard::Turn;

class Tuner {
 public:
  Tuner(const TuneTask& task, const TuneOptions& options)
      : task_(task), options_(options), board_(task, options), spread_(board_, task, options) {}

  TuneReport run() {
    const MemoryLimit memory(options_.memory_mib);
    const Limits clock({}, {}, nullptr);
    on_all_threads([this] { prepare(); });
    if (!stopped() && board_.take(task_.grid.written))
      decide(task_.grid.written, std::max(1U, options_.jobs));
    on_all_threads([this] { work(); });
    on_all_threads([this] { name_first(); });
    TuneReport report = board_.take_report();
    report.statistics.seconds = clock.seconds();
    return report;
  }

 private:
  template <class Work>
  void on_all_threads(const Work& work) {
    const auto guarded = [&] {
      try {
        work();
      } catch (...) {
        const std::lock_guard lock(mutex_);
        error_ = std::current_exception();
      }
    };
    std::vector<std::jthread> threads;
    const std::size_t count = std::min<std::size_t>(std::max(1U, options_.jobs), task_.grid.points());
    for (std::size_t thread = 1; thread < count; ++thread) threads.emplace_back(guarded);
    guarded();
    for (std::jthread& thread : threads) thread.join();
    if (error_) std::rethrow_exception(error_);
  }

  [[nodiscard]] bool stopped() {
    const std::lock_guard lock(mutex_);
    return error_ || options_.cancel.requested();
  }

  void prepare() {
    while (!stopped()) {
      std::size_t point = 0;
      {
        const std::lock_guard lock(mutex_);
        if (next_ == task_.grid.points()) return;
        point = next_++;
      }
      if (task_.wanted.empty() || task_.wanted[point]) board_.put(point, task_.model_at(point));
    }
  }

  void work() {
    while (!stopped()) {
      const auto point = board_.take();
      if (!point) return;
      decide(*point, 1);
    }
  }

  void name_first() {
    while (!stopped()) {
      const auto point = board_.take_unnamed();
      if (!point) return;
      const std::vector<std::uint32_t> claims = board_.claims_before(*point);
      if (!claims.empty()) ask(*point, claims, 1);
      board_.name_first(*point);
    }
  }

  void decide(std::size_t point, unsigned jobs) {
    if (board_.settle_by_answers(point) || try_near_runs(point)) return;
    // Claims that broke elsewhere come first: if one breaks here, the others need not be asked.
    for (const Turn turn : {Turn::likely, Turn::others, Turn::conditions}) {
      if (board_.settle_by_answers(point) || stopped()) return;
      const std::vector<std::uint32_t> claims = board_.open_claims(point, turn);
      if (!claims.empty()) ask(point, claims, jobs);
    }
    board_.settle_by_answers(point);
  }

  void ask(std::size_t point, const std::vector<std::uint32_t>& claims, unsigned jobs) {
    const Report report = check_forever(board_.model(point), {.claims = claims,
                                                              .timeout = options_.timeout,
                                                              .memory_mib = options_.memory_mib,
                                                              .cancel = options_.cancel,
                                                              .jobs = jobs,
                                                              .side_findings = false,
                                                              .small_proofs = true});
    board_.answer(point, report);
    if (report.no_run_of) return;
    const auto count = static_cast<double>(report.verdicts.size());
    for (const Verdict& verdict : report.verdicts) {
      if (verdict.run) carry(*verdict.run, point, verdict.claim);
    }
    for (const Verdict& verdict : report.verdicts) {
      if (!stopped()) spread_.from(point, verdict, report.statistics.seconds / count);
    }
  }

  void carry(const Run& run, std::size_t from, std::uint32_t claim) {
    for (const std::size_t point : board_.points_wanting(claim)) {
      if (point != from && !stopped()) board_.learn(point, run);
    }
  }

  bool try_near_runs(std::size_t point) {
    for (const auto& [from, run] : board_.near_runs(point)) {
      const std::vector<Value> growth = task_.growth ? task_.growth(from, point) : std::vector<Value>{};
      const bool broken = board_.learn(point, run) || try_stretched(run, growth, [&](const Run& changed) {
                            return board_.learn(point, changed);
                          });
      if (broken) return true;
    }
    return false;
  }

  const TuneTask& task_;
  const TuneOptions& options_;
  TuneBoard board_;
  TuneSpread spread_;
  std::mutex mutex_;
  std::size_t next_ = 0;
  std::exception_ptr error_;
};

}  // namespace

TuneReport tune(const TuneTask& task, const TuneOptions& options) {
  return Tuner(task, options).run();
}

PointFinding with_shortest_run(const Model& model, const PointFinding& finding, const TuneOptions& options) {
  if (!finding.run) return finding;
  Report report = check_forever(model, {.claims = {finding.claim},
                                        .timeout = options.timeout,
                                        .memory_mib = options.memory_mib,
                                        .cancel = options.cancel,
                                        .side_findings = false});
  Verdict& verdict = report.verdicts.front();
  if (verdict.outcome == Outcome::proved || report.no_run_of) {
    throw InternalDisagreement{"a claim is proved that a replayed run breaks"};
  }
  PointFinding found = finding;
  if (!finding.shortest) found.limit = verdict.limit;
  if (verdict.outcome == Outcome::refuted && verdict.run) {
    found.run.emplace(std::move(*verdict.run));
    found.limit = verdict.limit;
    found.shortest = verdict.limit == Limit::none;
  }
  return found;
}

}  // namespace detent::solver
