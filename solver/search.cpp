// Bounded search (Biere, Cimatti, Clarke, Zhu, TACAS 1999), one tick after another: the first tick in which a
// question is answered by a run is the last of its shortest run, and nothing has to be narrowed down.
//
// - All questions share one unrolling. What one has shown impossible is a fact for the others.
// - Constraints are left out until a run breaks one; from then on that constraint is a fact at every tick.
//   (The abstraction and its refinement are those of Clarke, Grumberg, Jha, Lu, Veith, CAV 2000, taken over
//   constraints.) Most claims need none of them, and one that speaks of sticks that move slowly is dear.
//   A constraint holds at the ticks of the run and says nothing of the time after it, so at tick t only the
//   ticks up to t have it: a run that breaks a claim and then cannot go on is still found.
// - A question that is hard is put aside, so that it does not keep the others waiting, and gets a session of
//   its own later, with more effort each time.
//
// Measured on two 8 s windows at 20 ms (two clocks of 400 ticks, 119 nodes, 11 claims, 850 ticks, one core,
// Z3 4.8.12): see FIGURES.
#include "solver/search.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "solver/encode.hpp"
#include "solver/interpreter.hpp"
#include "solver/satisfiability.hpp"

namespace detent::solver {
namespace {

/// Conflicts that a question may cost at one tick before it is put aside, and how that grows.
constexpr unsigned first_effort = 5'000;
constexpr unsigned effort_growth = 8;
constexpr unsigned largest_effort = 1'000'000'000;

enum class Finding { absent, found, too_hard, stopped };

/// One unrolling with its solver.
class Session {
 public:
  Session(const Setting& setting, const std::vector<NodeId>& conditions, const Limits& limits,
          Statistics& statistics)
      : setting_(&setting),
        limits_(&limits),
        statistics_(&statistics),
        encoding_(*setting.circuit, with_constraints(setting, conditions)),
        solver_(encoding_.gates()),
        demanded_(setting.constraints.size(), false),
        watchman_(limits, [this] { solver_.interrupt(); }) {}

  void add_tick() {
    encoding_.add_tick();
    for (; facts_required_ < encoding_.facts().size(); ++facts_required_) {
      solver_.require(encoding_.facts()[facts_required_]);
    }
    for (std::size_t index = 0; index < demanded_.size(); ++index) {
      if (demanded_[index]) solver_.require(constraint(index, last_tick()));
    }
    statistics_->unrolled_ticks =
        std::max(statistics_->unrolled_ticks, static_cast<Value>(encoding_.ticks()));
  }

  void require_absent(NodeId node) { solver_.require(!encoding_.condition(node, last_tick())); }

  /// Whether the node can be true in the tick added last.
  Finding ask(NodeId node, std::optional<unsigned> effort) {
    const Literal wish = encoding_.condition(node, last_tick());
    if (wish == always_false) return Finding::absent;
    for (;;) {
      const Answer answer = ask_solver(wish, effort);
      if (answer == Answer::yes) {
        if (accept_run(node)) return Finding::found;
        continue;
      }
      if (answer == Answer::no) return Finding::absent;
      return answer == Answer::too_hard ? Finding::too_hard : Finding::stopped;
    }
  }

  /// Whether the constraints leave a run of each number of ticks up to those added: asked for `ticks`.
  Answer ask_for_any_run(std::size_t ticks) {
    Literal all = always_true;
    for (std::size_t tick = 0; tick < ticks; ++tick) {
      for (const NodeId node : setting_->constraints) {
        all = encoding_.gates().both(encoding_.condition(node, tick), all);
      }
    }
    return ask_solver(all, {});
  }

  [[nodiscard]] Limit limit_reached() const { return limits_->reached(encoding_.bytes()); }
  [[nodiscard]] const Run& run() const { return run_; }
  [[nodiscard]] Limit why_stopped() const { return why_stopped_; }

 private:
  static std::vector<NodeId> with_constraints(const Setting& setting, std::vector<NodeId> conditions) {
    conditions.insert(conditions.end(), setting.constraints.begin(), setting.constraints.end());
    return conditions;
  }

  [[nodiscard]] std::size_t last_tick() const { return encoding_.ticks() - 1; }
  [[nodiscard]] Literal constraint(std::size_t index, std::size_t tick) const {
    return encoding_.condition(setting_->constraints[index], tick);
  }

  Answer ask_solver(Literal wish, std::optional<unsigned> effort) {
    why_stopped_ = limit_reached();
    if (why_stopped_ != Limit::none) return Answer::unknown;
    ++statistics_->solver_calls;
    const Answer answer = solver_.ask(wish, effort);
    if (answer == Answer::out_of_memory) why_stopped_ = Limit::memory;
    if (answer == Answer::unknown) {
      why_stopped_ = limit_reached();
      if (why_stopped_ == Limit::none) why_stopped_ = Limit::solver_gave_up;
    }
    return answer;
  }

  /// Holds the run that Z3 has found against the interpreter. False: it breaks constraints that were left out
  /// so far and are now demanded.
  bool accept_run(NodeId node) {
    run_ = encoding_.run(solver_.values(), encoding_.ticks());
    const Trace trace = replay(*setting_->circuit, run_);
    ++statistics_->replayed_runs;
    if (const auto difference = encoding_.disagreement(trace, solver_.values(), solver_.known())) {
      throw InternalDisagreement{*difference};
    }
    if (trace.at(last_tick(), node) == 0) {
      throw InternalDisagreement{fmt::format("node {} is not true at the end of the run found for it", node)};
    }
    bool accepted = true;
    for (std::size_t index = 0; index < demanded_.size(); ++index) {
      if (is_broken(trace, index)) {
        demand(index);
        accepted = false;
      }
    }
    return accepted;
  }

  [[nodiscard]] bool is_broken(const Trace& trace, std::size_t index) const {
    const NodeId node = setting_->constraints[index];
    return std::any_of(trace.values.begin(), trace.values.end(),
                       [node](const std::vector<Value>& values) { return values[node] == 0; });
  }

  void demand(std::size_t index) {
    if (demanded_[index]) {
      throw InternalDisagreement{fmt::format("constraint {} does not hold in a run found under it", index)};
    }
    demanded_[index] = true;
    for (std::size_t tick = 0; tick < encoding_.ticks(); ++tick) solver_.require(constraint(index, tick));
  }

  const Setting* setting_;
  const Limits* limits_;
  Statistics* statistics_;
  Encoding encoding_;
  Satisfiability solver_;
  std::vector<bool> demanded_;
  std::size_t facts_required_ = 0;
  Run run_;
  Limit why_stopped_ = Limit::none;
  Watchman watchman_;  // last: it must stop before the solver goes
};

bool is_open(const Question& question, Value tick) {
  return question.limit == Limit::none && !question.is_settled() && tick < question.ticks;
}

/// Asks one question at one tick. False: nothing more can be asked in this session.
bool take_step(Session& session, Question& question, Value tick, std::optional<unsigned> effort) {
  switch (session.ask(question.node, effort)) {
    case Finding::absent:
      question.absent = tick + 1;
      session.require_absent(question.node);
      return true;
    case Finding::found:
      question.run = session.run();
      return true;
    case Finding::too_hard:
      question.limit = Limit::solver_gave_up;
      return true;
    case Finding::stopped:
      question.limit = session.why_stopped();
      return false;
  }
  return false;
}

std::size_t count_open(const std::vector<Question*>& questions, Value tick) {
  return static_cast<std::size_t>(
      std::count_if(questions.begin(), questions.end(),
                    [tick](const Question* question) { return is_open(*question, tick); }));
}

/// Asks all questions in one session, each until it is settled or costs too much at some tick. Returns what
/// stopped the session, or Limit::none.
Limit ask_together(const Setting& setting, const std::vector<Question*>& questions,
                   std::optional<unsigned> effort, const Limits& limits, Statistics& statistics,
                   const SearchProgress& progress) {
  std::vector<NodeId> nodes;
  for (Question* question : questions) {
    nodes.push_back(question->node);
    question->limit = Limit::none;
  }
  Session session(setting, nodes, limits, statistics);
  for (Value tick = 0;; ++tick) {
    const std::size_t open = count_open(questions, tick);
    if (open == 0) return Limit::none;
    if (progress) progress(tick, open);
    if (const Limit limit = session.limit_reached(); limit != Limit::none) return limit;
    session.add_tick();
    for (Question* question : questions) {
      if (!is_open(*question, tick)) continue;
      if (tick < question->absent) {
        session.require_absent(question->node);
      } else if (!take_step(session, *question, tick, effort)) {
        return question->limit;
      }
    }
  }
}

std::vector<Question*> unsettled(std::vector<Question>& questions) {
  std::vector<Question*> open;
  for (Question& question : questions) {
    if (!question.is_settled()) open.push_back(&question);
  }
  return open;
}

void mark(const std::vector<Question*>& questions, Limit limit) {
  for (Question* question : questions) question->limit = limit;
}

}  // namespace

void search(const Setting& setting, std::vector<Question>& questions, const Limits& limits,
            Statistics& statistics, const SearchProgress& progress) {
  std::vector<Question*> open = unsettled(questions);
  if (open.empty()) return;
  unsigned effort = first_effort;
  Limit limit = ask_together(setting, open, effort, limits, statistics, progress);
  for (open = unsettled(questions); !open.empty() && limit == Limit::none; open = unsettled(questions)) {
    effort = std::min(largest_effort, effort * effort_growth);
    for (Question* question : open) {
      if (limit == Limit::none)
        limit = ask_together(setting, {question}, effort, limits, statistics, progress);
    }
    if (effort == largest_effort) break;
  }
  mark(unsettled(questions), limit == Limit::none ? Limit::solver_gave_up : limit);
}

std::optional<Value> shortest_impossible(const Setting& setting, Value ticks, const Limits& limits,
                                         Statistics& statistics) {
  Session session(setting, {}, limits, statistics);
  for (Value tick = 0; tick < ticks; ++tick) {
    if (session.limit_reached() != Limit::none) return {};
    session.add_tick();
  }
  if (session.ask_for_any_run(static_cast<std::size_t>(ticks)) != Answer::no) return {};
  Value possible = 0;  // the run of no ticks
  Value impossible = ticks;
  while (impossible - possible > 1) {
    const Value middle = possible + (impossible - possible) / 2;
    switch (session.ask_for_any_run(static_cast<std::size_t>(middle))) {
      case Answer::yes:
        possible = middle;
        break;
      case Answer::no:
        impossible = middle;
        break;
      default:
        return impossible;
    }
  }
  return impossible;
}

}  // namespace detent::solver
