// Which values hold is found by deciding every value; nothing is concluded from one value to the next.
// Whether a claim holds need not be monotone in a value (a window must be long enough to act in and short
// enough to be safe; a blinking lamp may miss a moment at every second value), so that edges found by
// bisection alone would be guesses. What decides a value is one of
//
//   - a run of the design at that value, played on the interpreter, that breaks a claim;
//   - a proof that no run of that design does a `possible` claim;
//   - for each claim, a proof for all time on that design, or the run that a `possible` claim asks for.
//
// What makes that cheaper than asking Z3 of every claim at every value:
//
//   - A claim looks at a slice of the design. Where the slices at two values are the same node by node
//     (solver/memo.hpp) they are one question, and have one answer. Claims that a tunable has no part in
//     are asked once.
//   - A run found at one value is played at all values that are still open, and where it breaks nothing it is
//     played with its quiet stretches changed by as much as the values differ (solver/tune_runs.cpp). A
//     replayed violation is evidence as good as one that Z3 found, only not always the shortest.
//     Only where Z3 has been asked about a design with the same assumptions: a short run proves nothing of
//     assumptions that leave no longer one.
//   - Values are taken between a neighbour that holds and one that does not first, so that edges are known
//     early, and Z3 is asked where runs of either side are nearest.
//
// So Z3 is asked once for about each edge, and once for each value that holds.
#include "solver/tune.hpp"

#include <algorithm>
#include <exception>
#include <map>
#include <mutex>
#include <set>
#include <string>
#include <thread>
#include <utility>

#include "solver/forever.hpp"
#include "solver/limits.hpp"
#include "solver/memo.hpp"
#include "solver/memory_limit.hpp"
#include "solver/tune_order.hpp"
#include "solver/tune_runs.hpp"

namespace detent::solver {
namespace {

using dsl::Claim;
using dsl::Model;

/// A claim of one or more points at which it is the same, node by node.
struct Question {
  enum class State { open, holds, broken, undecided, no_run };
  State state = State::open;
  Limit limit = Limit::none;
  std::optional<Run> run = {};
  bool for_all_time = false;
  Value ticks = 0;
};

struct Point {
  std::optional<Model> model = {};
  std::vector<std::size_t> questions = {};  ///< one for each claim
  std::string assumptions = {};             ///< what is assumed, written out; "" for nothing
};

std::string key_of_assumptions(Model& model) {
  if (model.constraints.empty()) return {};
  Claim any;
  any.watch = model.constraints.front().node;
  model.claims.push_back(any);
  std::string key = key_of(model, static_cast<std::uint32_t>(model.claims.size() - 1));
  model.claims.pop_back();
  return key;
}

class Tuner {
 public:
  Tuner(const TuneTask& task, const TuneOptions& options) : task_(task), options_(options) {
    points_.resize(task.grid.points());
    report_.points.resize(points_.size());
    taken_.resize(points_.size(), false);
  }

  TuneReport run() {
    const MemoryLimit memory(options_.memory_mib);
    const Limits clock({}, {}, nullptr);
    on_all_threads([this] { prepare(); });
    if (!stopped() && report_.points[task_.grid.written].standing == Standing::open) {
      taken_[task_.grid.written] = true;
      decide(task_.grid.written, std::max(1U, options_.jobs));
    }
    on_all_threads([this] { work(); });
    report_.statistics.seconds = clock.seconds();
    return std::move(report_);
  }

 private:
  // ---- threads ----
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
    std::vector<std::thread> threads;
    const std::size_t count = std::min<std::size_t>(std::max(1U, options_.jobs), points_.size());
    for (std::size_t thread = 1; thread < count; ++thread) threads.emplace_back(guarded);
    guarded();
    for (std::thread& thread : threads) thread.join();
    if (error_) std::rethrow_exception(error_);
  }

  [[nodiscard]] bool stopped() const { return options_.cancel != nullptr && *options_.cancel; }

  // ---- the questions of each point ----
  void prepare() {
    for (;;) {
      std::size_t point = 0;
      {
        const std::lock_guard lock(mutex_);
        if (next_ == points_.size() || error_ || stopped()) return;
        point = next_++;
      }
      std::optional<Model> model = task_.model_at(point);
      std::vector<std::string> keys;
      for (std::uint32_t claim = 0; model && claim < model->claims.size(); ++claim) {
        keys.push_back(key_of(*model, claim));
        model->claims[claim].premise = dsl::no_node;  // whether it says something is no question here
      }
      std::string assumptions = model ? key_of_assumptions(*model) : std::string();
      const std::lock_guard lock(mutex_);
      points_[point].assumptions = std::move(assumptions);
      for (std::string& key : keys) points_[point].questions.push_back(question_of(std::move(key)));
      points_[point].model = std::move(model);
      if (!points_[point].model) settle(point, {.standing = Standing::no_design});
    }
  }

  std::size_t question_of(std::string key) {
    const auto [entry, is_new] = numbers_.try_emplace(std::move(key), questions_.size());
    if (is_new) {
      questions_.emplace_back();
    } else {
      ++report_.statistics.shared;
    }
    return entry->second;
  }

  // ---- deciding ----
  void work() {
    while (const auto point = take()) decide(*point, 1);
  }

  std::optional<std::size_t> take() {
    const std::lock_guard lock(mutex_);
    if (error_ || stopped()) return {};
    const auto point = next_point(task_.grid, report_.points, taken_);
    if (point) taken_[*point] = true;
    return point;
  }

  void decide(std::size_t point, unsigned jobs) {
    if (settle_by_answers(point) || try_near_runs(point)) return;
    // Claims that broke elsewhere come first: if one breaks here, the others need not be asked.
    for (const bool likely : {true, false}) {
      const std::vector<std::uint32_t> claims = open_claims(point, likely);
      if (claims.empty()) continue;
      ask(point, claims, jobs);
      if (settle_by_answers(point)) return;
    }
  }

  /// Whether it is settled now.
  bool settle_by_answers(std::size_t point) {
    const std::lock_guard lock(mutex_);
    if (report_.points[point].standing != Standing::open) return true;
    std::optional<PointFinding> undecided;
    bool open = false;
    const std::vector<std::size_t>& asked = points_[point].questions;
    for (std::uint32_t claim = 0; claim < asked.size(); ++claim) {
      const Question& question = questions_[asked[claim]];
      switch (question.state) {
        case Question::State::broken:
          settle(point, broken_by(point, claim, question));
          return true;
        case Question::State::no_run:
          settle(point, {.standing = Standing::no_run});
          return true;
        case Question::State::undecided:
          undecided = PointFinding{.standing = Standing::undecided, .claim = claim, .limit = question.limit};
          break;
        case Question::State::open:
          open = true;
          break;
        case Question::State::holds:
          break;
      }
    }
    if (open) return false;
    settle(point, undecided.value_or(PointFinding{.standing = Standing::holds}));
    return true;
  }

  /// One circuit, one verdict; and still the run is played on the design of this very point.
  PointFinding broken_by(std::size_t point, std::uint32_t claim, const Question& question) const {
    if (question.run) {
      const Seen seen = look_at(*points_[point].model, *question.run);
      if (!seen.broken) throw InternalDisagreement{"a run that breaks a claim does not break it again"};
      if (*seen.broken != claim || seen.ticks != question.run->ticks()) {
        Run run = *question.run;
        run.inputs.cut(seen.ticks);
        return {.standing = Standing::fails, .claim = *seen.broken, .run = std::move(run)};
      }
    }
    return {.standing = Standing::fails,
            .claim = claim,
            .run = question.run,
            .shortest = question.limit == Limit::none,
            .for_all_time = question.for_all_time,
            .ticks = question.ticks,
            .limit = question.limit};
  }

  void settle(std::size_t point, PointFinding finding) {
    if (report_.points[point].standing != Standing::open) return;
    if (finding.standing == Standing::fails) ++breaks_[finding.claim];
    report_.points[point] = std::move(finding);
    ++decided_;
    if (options_.progress) options_.progress({decided_, points_.size()});
  }

  std::vector<std::uint32_t> open_claims(std::size_t point, bool likely) {
    const std::lock_guard lock(mutex_);
    std::vector<std::uint32_t> claims;
    const std::vector<std::size_t>& asked = points_[point].questions;
    for (std::uint32_t claim = 0; claim < asked.size(); ++claim) {
      const bool open = questions_[asked[claim]].state == Question::State::open;
      if (open && breaks_.contains(claim) == likely) claims.push_back(claim);
    }
    return claims;
  }

  void ask(std::size_t point, const std::vector<std::uint32_t>& claims, unsigned jobs) {
    Report report = check_forever(*points_[point].model, {.claims = claims,
                                                          .timeout = options_.timeout,
                                                          .memory_mib = options_.memory_mib,
                                                          .cancel = options_.cancel,
                                                          .jobs = jobs,
                                                          .side_findings = false});
    std::vector<Run> runs;
    {
      const std::lock_guard lock(mutex_);
      report_.statistics.asked += claims.size();
      if (!report.no_run_of) can_be_kept_.insert(points_[point].assumptions);
      for (Verdict& verdict : report.verdicts) {
        if (verdict.run) runs.push_back(*verdict.run);
        answer(questions_[points_[point].questions[verdict.claim]], verdict, report.no_run_of.has_value());
      }
    }
    for (const Run& run : runs) carry(run, point);
  }

  static void answer(Question& question, Verdict& verdict, bool no_run) {
    question.limit = verdict.limit;
    switch (verdict.outcome) {
      case Outcome::proved:
      case Outcome::shown:
        question.state = Question::State::holds;
        break;
      case Outcome::refuted:
        question.state = Question::State::broken;
        question.for_all_time = verdict.proof.has_value();
        question.ticks = verdict.ticks;
        question.run = std::move(verdict.run);
        break;
      default:
        question.state = Question::State::undecided;
    }
    if (no_run) question.state = Question::State::no_run;
  }

  // ---- runs from elsewhere ----
  std::vector<std::size_t> open_points() {
    const std::lock_guard lock(mutex_);
    std::vector<std::size_t> open;
    for (std::size_t point = 0; point < points_.size(); ++point) {
      if (report_.points[point].standing == Standing::open) open.push_back(point);
    }
    return open;
  }

  void carry(const Run& run, std::size_t from) {
    for (const std::size_t point : open_points()) {
      if (point != from) learn(point, run);
    }
  }

  /// What the run shows at an open point. Whether it breaks a claim there.
  bool learn(std::size_t point, const Run& run) {
    {
      const std::lock_guard lock(mutex_);
      if (!can_be_kept_.contains(points_[point].assumptions)) return false;
    }
    const Seen seen = look_at(*points_[point].model, run);
    const std::lock_guard lock(mutex_);
    for (const std::uint32_t claim : seen.shown) {
      Question& question = questions_[points_[point].questions[claim]];
      if (question.state == Question::State::open) question.state = Question::State::holds;
    }
    if (!seen.broken || report_.points[point].standing != Standing::open) return seen.broken.has_value();
    Run here = run;
    here.inputs.cut(seen.ticks);
    settle(point, {.standing = Standing::fails, .claim = *seen.broken, .run = std::move(here)});
    ++report_.statistics.carried;
    return true;
  }

  bool try_near_runs(std::size_t point) {
    std::vector<std::pair<std::size_t, Run>> near;
    {
      const std::lock_guard lock(mutex_);
      for (const std::size_t from : nearest_runs(task_.grid, report_.points, point)) {
        near.emplace_back(from, *report_.points[from].run);
      }
    }
    for (const auto& [from, run] : near) {
      const std::vector<Value> growth = task_.growth ? task_.growth(from, point) : std::vector<Value>{};
      const bool broken = learn(point, run) || try_stretched(run, growth, [&](const Run& changed) {
                            return learn(point, changed);
                          });
      if (broken) return true;
    }
    return false;
  }

  const TuneTask& task_;
  const TuneOptions& options_;
  std::vector<Point> points_;
  std::vector<bool> taken_;
  std::mutex mutex_;
  std::map<std::string, std::size_t> numbers_;  ///< of questions, by key
  std::vector<Question> questions_;
  std::set<std::string> can_be_kept_{""};        ///< assumptions under which the engine has seen no dead end
  std::map<std::uint32_t, std::size_t> breaks_;  ///< how often each claim broke
  std::size_t next_ = 0, decided_ = 0;
  std::exception_ptr error_;
  TuneReport report_;
};

}  // namespace

TuneReport tune(const TuneTask& task, const TuneOptions& options) {
  return Tuner(task, options).run();
}

PointFinding with_shortest_run(const Model& model, const PointFinding& finding, const TuneOptions& options) {
  if (!finding.run || finding.shortest) return finding;
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
  found.limit = verdict.limit;
  if (verdict.outcome == Outcome::refuted && verdict.run) {
    found.run.emplace(std::move(*verdict.run));
    found.shortest = verdict.limit == Limit::none;
  }
  return found;
}

}  // namespace detent::solver
