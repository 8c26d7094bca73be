// That an input has moved is a comparison with what it was, and a proof would have to say how that hangs
// together with what the design remembers. So movements are counted twice: of the inputs themselves, which
// is what is meant and what runs are measured by, and of what the goal can see of them, which are never more
// and are conditions like those that the design remembers. With fewer of these out of reach, so are fewer of
// those.
#include "solver/figure_questions.hpp"

#include <algorithm>
#include <utility>

#include "solver/interpreter.hpp"
#include "solver/readers.hpp"

namespace detent::solver {

using dsl::Circuit;
using dsl::SideBySide;

namespace {

constexpr Value most_counted = 100'000;  // movements in one run

}  // namespace

FigureQuestions::FigureQuestions(Circuit& circuit, const SideBySide& both, std::size_t side,
                                 const FigureConditions& conditions)
    : circuit_(circuit),
      both_(both),
      side_(side),
      goal_(moved(conditions.goal)),
      lock_(moved(conditions.lock)),
      rest_(moved(conditions.rest)),
      movements_(circuit, inputs()),
      seen_movements_(circuit, seen_inputs()) {}

std::optional<FigureSearch> FigureQuestions::search_for(FigureKind kind) {
  if (kind == FigureKind::time_to_rest) {
    if (lock_ == dsl::no_node || rest_ == dsl::no_node) return std::nullopt;
    return Longest(restlessness());
  }
  if (goal_ == dsl::no_node) return std::nullopt;
  switch (kind) {
    case FigureKind::movements_to_goal:
      return Fewest(kind, movements(goal_, circuit_.truth(false)));
    case FigureKind::movements_to_lock: {
      const NodeId before = circuit_.previous(goal_, 0);
      return Fewest(kind, movements(circuit_.and_(before, circuit_.not_(goal_)), circuit_.not_(before)));
    }
    case FigureKind::slips_to_goal:
      return Fewest(kind, inputs_moved());
    default:
      return Fewest(kind, duration());
  }
}

NodeId FigureQuestions::moved(NodeId node) const {
  return node == dsl::no_node ? node : both_.node_of[side_][node];
}

bool FigureQuestions::is_rate_limited(NodeId input) const {
  const auto& constraints = both_.constraints_of[side_];
  return std::any_of(constraints.begin(), constraints.end(),
                     [&](const dsl::Constraint& one) { return one.rate && one.rate->hand == input; });
}

std::vector<MovedInput> FigureQuestions::inputs() const {
  const auto& choice = both_.model.power_up_choice;
  const NodeId no_hand = choice ? both_.model.signals[*choice].node : dsl::no_node;
  std::vector<MovedInput> all;
  for (const NodeId node : both_.inputs_of[side_]) {
    if (node != no_hand) all.push_back({{node}, is_rate_limited(node)});
  }
  return all;
}

std::vector<MovedInput> FigureQuestions::seen_inputs() const {
  std::vector<NodeId> roots;
  if (goal_ != dsl::no_node) roots.push_back(goal_);
  for (const dsl::Constraint& one : both_.constraints_of[side_]) {
    if (!one.rate) roots.push_back(one.node);
  }
  std::vector<MovedInput> all = inputs();
  for (MovedInput& input : all) {
    if (input.rate_limited) continue;
    if (auto readers = readers_of(both_.model.circuit, input.seen.front(), roots)) {
      input.seen = std::move(*readers);
    }
  }
  return all;
}

Value FigureQuestions::at_end(const Trace& trace, NodeId node) {
  return trace.at(trace.ticks() - 1, node);
}

Fewest::Measure FigureQuestions::movements(NodeId goal, NodeId anew) {
  const NodeId count = movements_.counted(anew, most_counted);
  const auto bounded = [this, goal, anew](Movements& movements) {
    return [this, goal, anew, &movements](Value most) {
      return at_most(goal, movements.counted(anew, most + 1), most);
    };
  };
  return {possibly(goal), bounded(movements_), [count](const Trace& trace) { return at_end(trace, count); },
          bounded(seen_movements_)};
}

Fewest::Measure FigureQuestions::inputs_moved() {
  const NodeId count = movements_.inputs_moved();
  const NodeId seen = seen_movements_.inputs_moved();
  const auto bounded = [this](NodeId number) {
    return [this, number](Value most) { return at_most(goal_, number, most); };
  };
  return {possibly(goal_), bounded(count), [count](const Trace& trace) { return at_end(trace, count); },
          bounded(seen)};
}

dsl::Claim FigureQuestions::at_most(NodeId goal, NodeId number, Value most) {
  return possibly(circuit_.and_(goal, circuit_.less_equal(number, circuit_.constant(most))));
}

Fewest::Measure FigureQuestions::duration() const {
  const auto within = [goal = goal_](Value most) {
    dsl::Claim claim = possibly(goal);
    claim.within = most;
    return claim;
  };
  return {possibly(goal_), within, [](const Trace& trace) { return static_cast<Value>(trace.ticks()) - 1; }};
}

Longest::Conditions FigureQuestions::restlessness() {
  const auto restless = [this](Value ticks) {
    const NodeId since_lock = circuit_.age(circuit_.not_(lock_), true);
    const NodeId held =
        ticks == 0 ? lock_ : circuit_.and_(lock_, circuit_.not_(circuit_.age_at_most(since_lock, ticks)));
    return circuit_.and_(held, circuit_.not_(rest_));
  };
  const Value longest = 4 * both_.model.longest_time + 1000;
  return {restless, [this, longest](const Run& run) { return is_endless(run, longest); }, longest};
}

bool FigureQuestions::is_endless(const Run& run, Value ticks) const {
  const Circuit& circuit = both_.model.circuit;  // without counters, which would never stand still
  Interpreter interpreter(circuit);
  for (std::size_t tick = 0; tick < run.ticks(); ++tick) interpreter.step(run.inputs[tick]);
  std::vector<Value> memory = interpreter.memory();
  for (Value tick = 0; tick < ticks; ++tick) {
    const std::vector<Value>& values = interpreter.step(run.inputs.back());
    const bool kept = std::all_of(both_.constraints_of[side_].begin(), both_.constraints_of[side_].end(),
                                  [&](const dsl::Constraint& one) { return values[one.node] != 0; });
    if (!kept || values[lock_] == 0 || values[rest_] != 0) return false;
    std::vector<Value> next = interpreter.memory();
    if (next == memory) return true;
    memory = std::move(next);
  }
  return false;
}

}  // namespace detent::solver
