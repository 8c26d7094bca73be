// Claims become questions of reachability, questions that look at the same part of the design become groups,
// and groups are worked on by as many threads as wanted, each with a Z3 of its own.
#include "solver/forever.hpp"

#include <algorithm>
#include <exception>
#include <limits>
#include <map>
#include <mutex>
#include <numeric>
#include <thread>
#include <utility>

#include "solver/bounded.hpp"
#include "solver/contradiction.hpp"
#include "solver/grouping.hpp"
#include "solver/limits.hpp"
#include "solver/machine.hpp"
#include "solver/memory_limit.hpp"
#include "solver/reach.hpp"
#include "solver/samples.hpp"

namespace detent::solver {
namespace {

using dsl::Claim;
using dsl::Model;

/// What may be spent on findings beside the claims once the time for a claim is over.
constexpr std::chrono::milliseconds time_aside{2000};
/// So many pairs of moves share groups with the claims; more would make the claims dear.
constexpr std::size_t few_overlaps = 50;

constexpr std::size_t nothing = static_cast<std::size_t>(-1);

/// A signal, and the questions about it: it changes if none of their conditions is out of reach.
struct Watched {
  std::uint32_t signal = 0;
  std::vector<std::size_t> questions = {};
};

class Check {
 public:
  Check(const Model& model, const ForeverOptions& options) : model_(model), options_(options) {}

  Report run() {
    const MemoryLimit memory(options_.memory_mib);
    const Limits clock({}, {}, nullptr);
    ask_claims();
    claimed_ = questions_.size();
    if (options_.side_findings) {
      ask_overlaps();
    }
    if (questions_.size() - claimed_ <= few_overlaps) {
      claimed_ = questions_.size();
    }
    own_ = questions_.size();
    later_ = own_ - claimed_ + (options_.side_findings ? 1 : 0);
    answer_some(0, claimed_, nullptr);
    const Limits aside(time_left_aside(clock), options_.memory_mib, options_.cancel);
    if (options_.side_findings && !report_.no_run_of && !error_) {
      later_ = 1;
      answer_some(claimed_, own_, &aside);
      ask_signals(aside);
      static_cast<void>(model_.circuit.finish());
      answer_some(own_, questions_.size(), &aside);
    }
    later_ = 0;
    answers_.resize(questions_.size());
    if (error_) {
      std::rethrow_exception(error_);
    }
    if (report_.no_run_of) {
      const Limits brief(time_left_aside(clock), options_.memory_mib, options_.cancel);
      report_.contradicting = contradicting(model_, *report_.no_run_of, brief, report_.statistics);
    } else {
      answer_deadlines();
    }
    write_report();
    open_.clear();
    tell();
    report_.statistics.seconds = clock.seconds();
    return std::move(report_);
  }

 private:
  // ---- questions ----
  std::size_t ask(NodeId condition, bool wants_run, bool hopeful = false) {
    const auto [entry, is_new] = question_of_.try_emplace(condition, questions_.size());
    if (is_new) {
      questions_.push_back({condition, wants_run, hopeful});
    } else if (entry->second >= answers_.size()) {  // not answered yet
      ReachQuestion& known = questions_[entry->second];
      known.wants_run = known.wants_run || wants_run;
      known.hopeful = known.hopeful && hopeful;
    }
    return entry->second;
  }

  /// What is left of the time for a claim, and at least a little.
  [[nodiscard]] std::optional<std::chrono::milliseconds> time_left_aside(const Limits& clock) const {
    if (!options_.timeout) {
      return {};
    }
    const auto spent = std::chrono::milliseconds(static_cast<std::int64_t>(clock.seconds() * 1000));
    return std::max(*options_.timeout - spent, std::min(*options_.timeout, time_aside));
  }

  void ask_claims() {
    claims_ = options_.claims;
    if (claims_.empty()) {
      claims_.resize(model_.claims.size());
      std::iota(claims_.begin(), claims_.end(), 0U);
    }
    for (const std::uint32_t index : claims_) {
      const Claim& claim = model_.claims[index];
      watch_of_.push_back(ask(claim.watch, true, claim.possible));
      const bool conditional = claim.premise != dsl::no_node && !claim.possible;
      premise_of_.push_back(conditional ? ask(claim.premise, false) : nothing);
    }
  }

  void ask_overlaps() {
    for (const dsl::Overlap& overlap : model_.overlaps) {
      overlap_of_.push_back(ask(overlap.both, true));
    }
  }

  // Signals that chance sees change need no question. A condition must be reachable both ways; stages must be
  // left once.
  void ask_signals(const Limits& limits) {
    std::vector<NodeId> conditions;
    std::vector<std::pair<std::uint32_t, std::size_t>> ranges;
    for (std::uint32_t index = 0; index < model_.signals.size(); ++index) {
      const std::vector<NodeId> both = sides_of(model_.signals[index]);
      ranges.emplace_back(index, both.size());
      conditions.insert(conditions.end(), both.begin(), both.end());
    }
    static_cast<void>(model_.circuit.finish());
    const std::vector<bool> seen = seen_by_chance(conditions, limits);
    std::size_t next = 0;
    for (const auto& [signal, count] : ranges) {
      Watched watched{.signal = signal};
      for (std::size_t side = 0; side < count; ++side, ++next) {
        if (!seen[next]) {
          watched.questions.push_back(ask(conditions[next], false));
        }
      }
      watched_.push_back(std::move(watched));
    }
  }

  std::vector<NodeId> sides_of(const dsl::Signal& signal) {
    dsl::Circuit& circuit = model_.circuit;
    const bool computed = signal.role != dsl::SignalRole::hand && !circuit.is_constant(signal.node);
    if (!computed) {
      return {};
    }
    if (signal.sort.kind == dsl::SortKind::condition) {
      return {signal.node, circuit.not_(signal.node)};
    }
    if (signal.element == "stages") {
      return {circuit.not_(circuit.equal(signal.node, circuit.constant(0)))};
    }
    return {};
  }

  std::vector<bool> seen_by_chance(const std::vector<NodeId>& conditions, const Limits& limits) {
    const Slice slice = slice_for(model_, conditions);
    const Machine machine = machine_of(slice, model_, conditions);
    std::vector<NodeId> nodes;
    for (const NodeId condition : conditions) {
      nodes.push_back(slice.node_of[condition]);
    }
    return sample(machine, nodes, {.runs = 25, .steps = 60, .seed = 2, .limits = &limits}).seen;
  }

  // ---- answers ----
  // Proofs of claims must speak of nodes that the caller's model has, so questions about what was added here
  // stay apart. `aside`: limits for all of these together; null: each group has its own.
  void answer_some(std::size_t first, std::size_t last, const Limits* aside) {
    answers_.resize(last);
    const Limits own(options_.timeout, options_.memory_mib, options_.cancel);
    const Limits& limits = aside == nullptr ? own : *aside;
    groups_ = group_questions(model_,
                              {questions_.begin() + static_cast<std::ptrdiff_t>(first),
                               questions_.begin() + static_cast<std::ptrdiff_t>(last)},
                              limits);
    for (std::size_t question = first; question < last; ++question) {
      answers_[question].limit = limits.reached();  // for those that are in no group
    }
    for (auto& group : groups_) {
      for (std::size_t& question : group) {
        question += first;
      }
    }
    aside_ = aside;
    next_group_ = 0;
    open_.clear();
    for (const auto& group : groups_) {
      open_.push_back(group.size());
    }
    tell();
    std::vector<std::jthread> threads;
    const std::size_t count = std::min<std::size_t>(std::max(1U, options_.jobs), groups_.size());
    for (std::size_t thread = 1; thread < count; ++thread) {
      threads.emplace_back([this] { work(); });
    }
    work();
    for (std::jthread& thread : threads) {
      thread.join();
    }
  }

  void work() {
    while (const auto group = take_group()) {
      try {
        answer_group(*group);
      } catch (...) {
        const std::lock_guard lock(mutex_);
        error_ = std::current_exception();
      }
    }
  }

  std::optional<std::size_t> take_group() {
    const std::lock_guard lock(mutex_);
    return next_group_ < groups_.size() && !error_ ? std::optional(next_group_++) : std::nullopt;
  }

  void answer_group(std::size_t index) {
    std::vector<ReachQuestion> questions;
    for (const std::size_t question : groups_[index]) {
      questions.push_back(questions_[question]);
    }
    const Limits own(options_.timeout, options_.memory_mib, options_.cancel);
    const Limits& limits = aside_ == nullptr ? own : *aside_;
    if (aside_ != nullptr && limits.reached() != Limit::none) {
      return;
    }
    const ReachOptions options{.small_proofs = options_.small_proofs,
                               .progress = [this, index](std::size_t open) { count_open(index, open); }};
    ReachReport report = reach(model_, questions, limits, options);
    const std::lock_guard lock(mutex_);
    for (std::size_t question = 0; question < questions.size(); ++question) {
      answers_[groups_[index][question]] = std::move(report.answers[question]);
    }
    if (report.no_run_of && (!report_.no_run_of || *report.no_run_of < *report_.no_run_of)) {
      report_.no_run_of = report.no_run_of;
    }
    report_.statistics.solver_calls += report.statistics.solver_calls;
    report_.statistics.replayed_runs += report.statistics.replayed_runs;
    open_[index] = 0;
    tell();
  }

  void count_open(std::size_t group, std::size_t open) {
    const std::lock_guard lock(mutex_);
    open_[group] = open;
    tell();
  }

  // What comes later is counted from the beginning, as far as it is known (questions about signals, of which
  // nobody knows how many, are one), so that the number only falls. One thread at a time.
  void tell() {
    const std::size_t open = std::accumulate(open_.begin(), open_.end(), later_);
    if (options_.progress && open < told_) {
      told_ = open;
      options_.progress(open);
    }
  }

  // A run of fewest events may wait too long where one of more events would be in time. Then all runs that
  // are in time are looked at.
  void answer_deadlines() {
    for (std::size_t index = 0; index < claims_.size(); ++index) {
      if (is_too_late(model_.claims[claims_[index]], answers_[watch_of_[index]])) {
        in_time_.emplace(index, verdict_in_time(claims_[index]));
      }
    }
  }

  static bool is_too_late(const Claim& claim, const ReachAnswer& answer) {
    return claim.possible && claim.within && answer.kind == ReachAnswer::Kind::reached &&
           static_cast<Value>(answer.run->ticks()) > *claim.within + 1;
  }

  Verdict verdict_in_time(std::uint32_t claim) {
    const Report looked = check_bounded(model_, {.within = *model_.claims[claim].within + 1,
                                                 .claims = {claim},
                                                 .timeout = options_.timeout,
                                                 .memory_mib = options_.memory_mib,
                                                 .cancel = options_.cancel,
                                                 .side_findings = false});
    report_.statistics.solver_calls += looked.statistics.solver_calls;
    report_.statistics.replayed_runs += looked.statistics.replayed_runs;
    return looked.verdicts.front();
  }

  // ---- report ----
  void write_report() {
    for (std::size_t index = 0; index < claims_.size(); ++index) {
      report_.verdicts.push_back(verdict_of(index));
    }
    for (std::size_t index = 0; index < overlap_of_.size(); ++index) {
      report_.overlaps.push_back({static_cast<std::uint32_t>(index), answers_[overlap_of_[index]].run});
    }
    for (const Watched& watched : watched_) {
      const bool stuck = std::any_of(
          watched.questions.begin(), watched.questions.end(),
          [&](std::size_t question) { return answers_[question].kind == ReachAnswer::Kind::never; });
      if (stuck) {
        report_.never_change.push_back(watched.signal);
      }
    }
  }

  Verdict verdict_of(std::size_t index) {
    const Claim& claim = model_.claims[claims_[index]];
    if (const auto found = in_time_.find(index); found != in_time_.end()) {
      return found->second;
    }
    const ReachAnswer& answer = answers_[watch_of_[index]];
    Verdict verdict{.claim = claims_[index]};
    switch (answer.kind) {
      case ReachAnswer::Kind::reached:
        verdict.outcome = claim.possible ? Outcome::shown : Outcome::refuted;
        verdict.run = answer.run;
        verdict.ticks = static_cast<Value>(answer.run->ticks());
        break;
      case ReachAnswer::Kind::never:
        verdict.outcome = claim.possible ? Outcome::refuted : Outcome::proved;
        verdict.proof = answer.proof;
        verdict.vacuous =
            premise_of_[index] != nothing && answers_[premise_of_[index]].kind == ReachAnswer::Kind::never;
        break;
      case ReachAnswer::Kind::unknown:
        verdict.limit = answer.limit;
        verdict.events = answer.events;
        verdict.ticks = answer.events;  // an event takes a tick at least
        break;
    }
    return verdict;
  }

  Model model_;  // a copy: questions may add nodes to its circuit
  const ForeverOptions& options_;
  std::vector<std::uint32_t> claims_;
  std::vector<ReachQuestion> questions_;
  std::map<NodeId, std::size_t> question_of_;  ///< by condition
  std::size_t claimed_ = 0;        ///< questions that are answered with the claims; they come first
  std::size_t own_ = 0;            ///< questions about conditions of the caller's model
  const Limits* aside_ = nullptr;  ///< for what is being answered, if it has limits in common
  std::vector<std::size_t> watch_of_, premise_of_, overlap_of_;
  std::vector<Watched> watched_;
  std::vector<std::vector<std::size_t>> groups_;
  std::vector<std::size_t> open_;  ///< by group: questions that are still worked on
  std::size_t later_ = 0;          ///< questions beside those of the groups that are worked on later
  std::size_t told_ = std::numeric_limits<std::size_t>::max();
  std::vector<ReachAnswer> answers_;
  std::map<std::size_t, Verdict> in_time_;  ///< by claim asked for, where the deadline had to be looked at
  std::mutex mutex_;
  std::size_t next_group_ = 0;
  std::exception_ptr error_;
  Report report_;
};

}  // namespace

Report check_forever(const Model& model, const ForeverOptions& options) {
  return Check(model, options).run();
}

}  // namespace detent::solver
