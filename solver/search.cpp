// Bounded search (Biere, Cimatti, Clarke, Zhu, TACAS 1999), one tick after another: the first tick in which a
// question is answered by a run is the last of its shortest run, and nothing has to be narrowed down.
//
// - Each question, or few that stand together, has an unrolling and a Z3 of its own, as small as its cone of
//   influence; all go forward side by side, so that when a limit is reached all are known about equally far.
//   What is shown impossible at one tick is a fact at the next. (In one session for all, Z3 has to find
//   values for whatever any of them needs.)
// - Constraints come in only where they are needed: see solver/session.cpp.
// - A question that is hard is put aside, so that it does not keep the others waiting, and gets a session of
//   its own later, with more effort each time.
//
// Measured, seconds, one core, Z3 4.8.12, tick by tick: two windows of T ticks, a settling time, an after-run
// and sticks (119 nodes), 11 claims of which two are refuted, 2 T + 50 ticks. What was not done after 100 s
// was given up; the tick is how far it had come.
//                                                           T = 80           T = 400
//   clocks as integers, Z3's default solver                 tick 80 of 210
//   clocks as integers, QF_LIA                              tick 112         tick 112 of 850
//   clocks and sticks as bit-vectors of 12 bits, QF_FD      58               tick 240
//   the same, QF_BV                                         68
//   this encoding, QF_FD, all claims in one session         0.3              3.7
// Asking for a chunk of ticks at once (8, 32, 64, 128, doubling) was within a fifth of this either way;
// asking of all claims at once whether any breaks was slower, up to ten times. Specs, 850 ticks each, in
// sessions of their own: two_step_unlock 1.2, weapon 5.5. (On a busy machine, where one session for all
// took 10.7 for the second, these took 7 to 8, and 13 when they took turns at every tick: each then finds its
// memory out of the cache.) When not to use it: numbers that vary and are computed with at every tick. The
// winch's ramp, line and taught limit take 8 s for 200 ticks and 101 s for 850.
#include "solver/search.hpp"

#include <algorithm>
#include <memory>
#include <utility>

#include "solver/session.hpp"

namespace detent::solver {
namespace {

/// Conflicts that a question may cost at one tick before it is put aside, and how that grows.
constexpr unsigned first_effort = 5'000;
constexpr unsigned effort_growth = 8;
constexpr unsigned largest_effort = 1'000'000'000;
/// Sessions side by side: each has a Z3 of its own.
constexpr std::size_t most_groups = 12;
/// So many ticks are looked at by one session before it is the next one's turn.
constexpr Value ticks_at_a_time = 50;

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

/// Questions that share a session: few, so that each is not slowed down by what only others need.
class Group {
 public:
  Group(const Setting& setting, std::vector<Question*> questions, const Limits& limits,
        Statistics& statistics)
      : questions_(std::move(questions)), session_(setting, nodes(), limits, statistics) {
    for (Question* question : questions_) question->limit = Limit::none;
  }

  [[nodiscard]] std::size_t count_open(Value tick) const {
    return static_cast<std::size_t>(std::count_if(
        questions_.begin(), questions_.end(), [tick](const Question* one) { return is_open(*one, tick); }));
  }

  /// Goes on by one tick with the questions that are open. Returns what stops the search, or Limit::none.
  Limit take_tick(Value tick, std::optional<unsigned> effort) {
    if (count_open(tick) == 0) return Limit::none;
    if (const Limit limit = session_.limit_reached(); limit != Limit::none) return limit;
    session_.add_tick();
    for (Question* question : questions_) {
      if (!is_open(*question, tick)) continue;
      if (tick < question->absent) {
        session_.require_absent(question->node);
      } else if (!take_step(session_, *question, tick, effort)) {
        return question->limit;
      }
    }
    return Limit::none;
  }

 private:
  [[nodiscard]] std::vector<NodeId> nodes() const {
    std::vector<NodeId> nodes;
    for (const Question* question : questions_) nodes.push_back(question->node);
    return nodes;
  }

  std::vector<Question*> questions_;
  Session session_;
};

using Groups = std::vector<std::unique_ptr<Group>>;

/// Neighbours come into one group: a claim and its premise stand side by side.
Groups in_groups(const Setting& setting, const std::vector<Question*>& questions, const Limits& limits,
                 Statistics& statistics) {
  const std::size_t size = (questions.size() + most_groups - 1) / most_groups;
  Groups groups;
  for (std::size_t first = 0; first < questions.size(); first += size) {
    const std::size_t last = std::min(first + size, questions.size());
    std::vector<Question*> some(questions.begin() + static_cast<std::ptrdiff_t>(first),
                                questions.begin() + static_cast<std::ptrdiff_t>(last));
    groups.push_back(std::make_unique<Group>(setting, std::move(some), limits, statistics));
  }
  return groups;
}

/// Asks all questions tick by tick, each until it is settled or costs too much at some tick. Returns what
/// stopped it, or Limit::none.
Limit ask_by_tick(const Setting& setting, const std::vector<Question*>& questions,
                  std::optional<unsigned> effort, const Limits& limits, Statistics& statistics,
                  const std::function<void(Value)>& come_to) {
  const Groups groups = in_groups(setting, questions, limits, statistics);
  for (Value first = 0;; first += ticks_at_a_time) {
    if (std::none_of(groups.begin(), groups.end(),
                     [first](const auto& group) { return group->count_open(first) != 0; })) {
      return Limit::none;
    }
    for (const auto& group : groups) {
      for (Value tick = first; tick < first + ticks_at_a_time; ++tick) {
        come_to(first);
        if (const Limit limit = group->take_tick(tick, effort); limit != Limit::none) return limit;
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
  Value furthest = 0;
  const auto come_to = [&](Value ticks) {
    furthest = std::max(furthest, ticks);  // what was put aside begins again
    if (progress) progress(furthest, unsettled(questions).size());
  };
  Limit limit = ask_by_tick(setting, open, effort, limits, statistics, come_to);
  for (open = unsettled(questions); !open.empty() && limit == Limit::none; open = unsettled(questions)) {
    effort = std::min(largest_effort, effort * effort_growth);
    for (Question* question : open) {
      if (limit == Limit::none) limit = ask_by_tick(setting, {question}, effort, limits, statistics, come_to);
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
