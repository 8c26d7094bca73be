// Breadth-first search (Moore, "The shortest path through a maze", 1959): states are the memories of the
// interpreter, edges are the ticks. What is reached earlier is not looked at again, since all that can follow
// has then been seen in a shorter run.
#include "tests/support/every_run.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "solver/interpreter.hpp"

namespace detent::test {
namespace {

using dsl::Value;
using solver::Interpreter;
using Memory = std::vector<Value>;
using States = std::map<Memory, Interpreter>;

std::vector<std::vector<Value>> all_inputs(const dsl::Circuit& circuit) {
  std::vector<std::vector<Value>> all{{}};
  for (const dsl::CircuitInput& input : circuit.inputs()) {
    std::vector<std::vector<Value>> longer;
    for (const auto& row : all) {
      for (Value value = input.range.low; value <= input.range.high; value += input.step) {
        longer.push_back(row);
        longer.back().push_back(value);
      }
    }
    all = std::move(longer);
  }
  return all;
}

class Search {
 public:
  Search(const dsl::Model& model, std::size_t most_steps)
      : model_(model),
        inputs_(all_inputs(model.circuit)),
        steps_left_(most_steps),
        seen_(model.signals.size()) {
    found_.watch.resize(model.claims.size());
    found_.premise.resize(model.claims.size());
    found_.overlaps.resize(model.overlaps.size());
  }

  EveryRun run(std::size_t ticks) {
    States now{{{}, Interpreter(model_.circuit)}};
    std::set<Memory> known;
    for (tick_ = 1; tick_ <= ticks && !now.empty() && found_.complete; ++tick_) {
      States next;
      for (const auto& [memory, state] : now) {
        follow(state, [&](const Interpreter& after) {
          note(after);
          if (known.insert(after.memory()).second) next.emplace(after.memory(), after);
        });
      }
      now = std::move(next);
    }
    found_.forever = found_.complete && now.empty();
    found_.dead_end = dead_end_;
    if (found_.complete && dead_end_) found_.no_run_of = shortest_impossible(ticks);
    for (const std::set<Value>& values : seen_) found_.changes.push_back(values.size() > 1);
    return std::move(found_);
  }

 private:
  // Calls visit(state) for every tick that may follow.
  template <typename Visit>
  void follow(const Interpreter& state, Visit visit) {
    bool goes_on = false;
    for (const auto& inputs : inputs_) {
      if (steps_left_ == 0) {
        found_.complete = false;
        return;
      }
      --steps_left_;
      Interpreter after = state;
      after.step(inputs);
      if (!is_allowed(after)) continue;
      goes_on = true;
      visit(after);
    }
    dead_end_ = dead_end_ || !goes_on;
  }

  [[nodiscard]] bool is_allowed(const Interpreter& state) const {
    return std::all_of(model_.constraints.begin(), model_.constraints.end(),
                       [&](const dsl::Constraint& one) { return state.values()[one.node] != 0; });
  }

  void note(const Interpreter& state) {
    for (std::size_t index = 0; index < model_.claims.size(); ++index) {
      const dsl::Claim& claim = model_.claims[index];
      note_first(found_.watch[index], state, claim.watch);
      if (claim.premise != dsl::no_node) note_first(found_.premise[index], state, claim.premise);
    }
    for (std::size_t index = 0; index < model_.overlaps.size(); ++index) {
      note_first(found_.overlaps[index], state, model_.overlaps[index].both);
    }
    for (std::size_t index = 0; index < model_.signals.size(); ++index) {
      seen_[index].insert(state.values()[model_.signals[index].node]);
    }
  }

  void note_first(Length& length, const Interpreter& state, dsl::NodeId node) const {
    if (!length && state.values()[node] != 0) length = tick_;
  }

  // Here it matters whether there is a run at all, so every state is kept at every tick.
  Length shortest_impossible(std::size_t ticks) {
    States now{{{}, Interpreter(model_.circuit)}};
    for (std::size_t tick = 1; tick <= ticks; ++tick) {
      States next;
      for (const auto& [memory, state] : now) {
        follow(state, [&](const Interpreter& after) { next.emplace(after.memory(), after); });
      }
      if (next.empty()) return tick;
      now = std::move(next);
    }
    return {};
  }

  const dsl::Model& model_;
  std::vector<std::vector<Value>> inputs_;
  std::size_t steps_left_;
  std::size_t tick_ = 0;
  bool dead_end_ = false;
  std::vector<std::set<Value>> seen_;
  EveryRun found_;
};

}  // namespace

EveryRun every_run(const dsl::Model& model, std::size_t ticks, std::size_t most_steps) {
  return Search(model, most_steps).run(ticks);
}

}  // namespace detent::test
