// The figures of a comparison against a look at all states: a search of its own over the interpreter's
// memories and the places of the hands, which knows nothing of rounds, counters or proofs. Designs are our
// own, no outside source.
#include <algorithm>
#include <deque>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <variant>
#include <vector>

#include "solver/compare.hpp"
#include "solver/interpreter.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"

using namespace detent;
using namespace detent::test;

namespace {

using dsl::Model;
using dsl::NodeId;
using dsl::Value;
using solver::Figure;
using solver::FigureKind;
using solver::Interpreter;

using Row = std::vector<Value>;
using State = std::pair<Row, Row>;  ///< memory and inputs

/// All states of a small design.
class AllStates {
 public:
  explicit AllStates(const Model& model) : model_(model) { make_rows({}); }

  /// The least cost of a run that ends with the goal on, from power-up or, with `from_goal`, from a tick in
  /// which the goal was on to one in which it is off. Only the inputs marked may move.
  [[nodiscard]] std::optional<int> cheapest(NodeId goal, bool from_goal, bool cost_is_ticks,
                                            const std::set<std::size_t>& movable) const {
    std::map<State, int> best;
    std::deque<std::pair<Interpreter, Row>> open;
    std::optional<int> answer;
    const auto visit = [&](const Interpreter& machine, const Row& row, int cost) {
      const bool on = machine.values()[goal] != 0;
      const int now = from_goal && on && cost < 0 ? 0 : cost;
      const auto [entry, fresh] = best.try_emplace({machine.memory(), row}, now);
      if (!fresh && entry->second <= now) return;
      entry->second = now;
      open.emplace_back(machine, row);
    };
    for (const Row& row : rows_) {
      if (from_goal) break;
      Interpreter machine(model_.circuit);
      machine.step(row);
      if (machine.values()[goal] != 0) return 0;
      visit(machine, row, 0);
    }
    if (from_goal) {
      for (const auto& [machine, row] : goal_machines(goal)) visit(machine, row, 0);
    }
    while (!open.empty()) {
      const auto [machine, row] = open.front();
      open.pop_front();
      const int cost = best.at({machine.memory(), row});
      if (answer && cost >= *answer) continue;
      for (const Row& next : rows_) {
        const int moved = moves(row, next, movable);
        if (moved < 0) continue;
        Interpreter after = machine;
        after.step(next);
        const int sum = cost + (cost_is_ticks ? 1 : moved);
        const bool reached = (after.values()[goal] != 0) != from_goal;
        if (reached) {
          answer = std::min(answer.value_or(sum), sum);
        } else {
          visit(after, next, sum);
        }
      }
    }
    return answer;
  }

  [[nodiscard]] std::optional<int> fewest_inputs(NodeId goal) const {
    const std::size_t count = model_.circuit.inputs().size();
    std::optional<int> fewest;
    for (unsigned mask = 0; mask < (1U << count); ++mask) {
      std::set<std::size_t> movable;
      for (std::size_t input = 0; input < count; ++input) {
        if ((mask >> input & 1U) != 0) movable.insert(input);
      }
      const int size = static_cast<int>(movable.size());
      if ((!fewest || size < *fewest) && cheapest(goal, false, false, movable)) fewest = size;
    }
    return fewest;
  }

  /// The most ticks through which the lock can be on with no rest in the last; -1 where there is no end.
  [[nodiscard]] int longest_unrest(NodeId lock, NodeId rest) const {
    constexpr int no_end = 300;
    std::set<std::pair<State, int>> seen;
    std::deque<std::tuple<Interpreter, Row, int>> open;
    int longest = 0;
    const auto visit = [&](Interpreter machine, const Row& row, int before) {
      machine.step(row);
      const int on = machine.values()[lock] != 0 ? before + 1 : 0;
      if (on > 0 && machine.values()[rest] == 0) longest = std::max(longest, on);
      if (on < no_end && seen.insert({{machine.memory(), row}, on}).second)
        open.emplace_back(machine, row, on);
    };
    for (const Row& row : rows_) visit(Interpreter(model_.circuit), row, 0);
    while (!open.empty()) {
      const auto [machine, row, on] = open.front();
      open.pop_front();
      for (const Row& next : rows_) visit(machine, next, on);
    }
    return longest >= no_end ? -1 : longest;
  }

 private:
  void make_rows(const Row& begun) {
    if (begun.size() == model_.circuit.inputs().size()) {
      rows_.push_back(begun);
      return;
    }
    const dsl::CircuitInput& input = model_.circuit.inputs()[begun.size()];
    for (Value value = input.range.low; value <= input.range.high; value += input.step) {
      Row more = begun;
      more.push_back(value);
      make_rows(more);
    }
  }

  /// How many inputs move, or -1 where one moves that may not.
  static int moves(const Row& from, const Row& to, const std::set<std::size_t>& movable) {
    int count = 0;
    for (std::size_t input = 0; input < from.size(); ++input) {
      if (from[input] == to[input]) continue;
      if (!movable.contains(input)) return -1;
      ++count;
    }
    return count;
  }

  [[nodiscard]] std::vector<std::pair<Interpreter, Row>> goal_machines(NodeId goal) const {
    std::set<State> seen;
    std::deque<std::pair<Interpreter, Row>> open;
    std::vector<std::pair<Interpreter, Row>> found;
    const auto visit = [&](Interpreter machine, const Row& row) {
      machine.step(row);
      if (!seen.insert({machine.memory(), row}).second) return;
      open.emplace_back(machine, row);
      if (machine.values()[goal] != 0) found.emplace_back(machine, row);
    };
    for (const Row& row : rows_) visit(Interpreter(model_.circuit), row);
    while (!open.empty()) {
      const auto [machine, row] = open.front();
      open.pop_front();
      for (const Row& next : rows_) visit(machine, next);
    }
    return found;
  }

  const Model& model_;
  std::vector<Row> rows_;
};

struct Small {
  const char* name;
  const char* text;
};

// Conditions that the figures are about stand as the first three claims: never GOAL, never LOCK, never REST.
const Small designs[] = {
    {"a window, then a key",
     "tick 20 ms\nbutton nudge\nswitch guard is safe | run\npulse window on nudge for 60 ms\n"
     "latch live set window and rises(guard is run) reset guard is safe\n"
     "output jet = 100 % when live else 0 %\n"
     "claim g: never live\nclaim l: never guard is safe\nclaim r: never jet == 0 %\n"},
    {"one input alone will do",
     "tick 20 ms\nbutton tap\nbutton stop\ncounter taps up tap reset stop from 0 to 3\n"
     "signal live = taps == 3\nlinger warm on live for 80 ms\noutput jet = 100 % when warm else 0 %\n"
     "claim g: never live\nclaim l: never stop\nclaim r: never jet == 0 %\n"},
    {"it unlocks by itself, and locks by itself",
     "tick 20 ms\nbutton hold\ndelay ready on hold for 60 ms\npulse live on ready for 40 ms\n"
     "output jet = 100 % when live else 0 %\n"
     "claim g: never live\nclaim l: never hold\nclaim r: never jet == 0 %\n"},
    {"the lock does not stop it",
     "tick 20 ms\nbutton go\nbutton stop\nlatch live set go and not stop reset false and stop\n"
     "output jet = 100 % when live else 0 %\n"
     "claim g: never live\nclaim l: never stop\nclaim r: never jet == 0 %\n"},
    {"it never gets there",
     "tick 20 ms\nbutton go\nbutton stop\nlatch live set go and stop reset stop\n"
     "output jet = 100 % when live else 0 %\n"
     "claim g: never live\nclaim l: never stop\nclaim r: never jet == 0 %\n"},
    {"it stops a tick late, and steps are taken with both hands",
     "tick 20 ms\nbutton left\nbutton right\nbutton stop\n"
     "latch half set rises(left) and not right reset stop\n"
     "latch live set previous(half) and rises(right) and not left reset stop\n"
     "output jet = 100 % when previous(live) else 0 %\n"
     "claim g: never live\nclaim l: never stop\nclaim r: never jet == 0 %\n"},
};

void agree(const Figure& figure, std::optional<int> expected) {
  if (!expected) {
    CHECK(figure.state == Figure::State::none);
    return;
  }
  CHECK(figure.state == Figure::State::exact);
  CHECK(figure.value == *expected);
  CHECK(figure.run.has_value());
}

/// Movements in a run, by the inputs alone.
Value movements_in(const solver::Run& run) {
  Value count = 0;
  for (std::size_t tick = 1; tick < run.ticks(); ++tick) {
    for (std::size_t input = 0; input < run.inputs[tick].size(); ++input) {
      count += run.inputs[tick][input] != run.inputs[tick - 1][input] ? 1 : 0;
    }
  }
  return count;
}

}  // namespace

TEST_CASE("figures are what a look at all states says") {
  for (const Small& small : designs) {
    INFO(small.name);
    const Model model = compiled(small.text);
    const auto match = dsl::match_signals(model, model, {});
    const dsl::SideBySide both = dsl::put_side_by_side(model, model, std::get<dsl::Match>(match));
    solver::CompareQuestions questions;
    const NodeId goal = model.claims[0].first.node;
    const NodeId lock = model.claims[1].first.node;
    const NodeId rest = model.claims[2].first.node;
    questions.figures = {{{goal, lock, rest}, {goal, lock, rest}}};
    const solver::Comparison answer = solver::compare(model, model, both, questions, {});
    const AllStates states(model);
    std::set<std::size_t> all;
    for (std::size_t input = 0; input < model.circuit.inputs().size(); ++input) all.insert(input);
    for (const std::vector<Figure>& figures : answer.figures) {
      REQUIRE(figures.size() == 5);
      agree(figures[0], states.cheapest(goal, false, false, all));
      agree(figures[1], states.fewest_inputs(goal));
      agree(figures[2], states.cheapest(goal, false, true, all));
      agree(figures[3], states.cheapest(goal, true, false, all));
      const int longest = states.longest_unrest(lock, rest);
      CHECK(figures[4].state == (longest < 0 ? Figure::State::endless : Figure::State::exact));
      if (longest >= 0) CHECK(figures[4].value == longest);
      if (figures[0].run) CHECK(movements_in(*figures[0].run) == figures[0].value);
      if (figures[2].run) CHECK(static_cast<Value>(figures[2].run->ticks()) - 1 == figures[2].value);
    }
  }
}

TEST_CASE("a hand that goes on in one direction moves once where its speed is limited") {
  const Model model = compiled(
      "tick 20 ms\nchannel thrust from 0 % to 10 % step 1 % moving at most 50 % per s\n"
      "at power_up: thrust == 0 %\nsignal live = thrust >= 5 %\nclaim g: never live\n");
  const auto match = dsl::match_signals(model, model, {});
  const dsl::SideBySide both = dsl::put_side_by_side(model, model, std::get<dsl::Match>(match));
  solver::CompareQuestions questions;
  questions.figures[0].goal = questions.figures[1].goal = model.claims[0].first.node;
  const solver::Comparison answer = solver::compare(model, model, both, questions, {});
  CHECK(answer.figures[0][0].value == 1);
  CHECK(answer.figures[0][2].value == 5);
  CHECK(answer.figures[0][2].state == Figure::State::exact);
  CHECK(answer.figures[0][4].state == Figure::State::left_out);
}
