// Bounded search over steps (Biere, Cimatti, Clarke, Zhu, "Symbolic model checking without BDDs", TACAS
// 1999), where a step is a tick and the quiet time after it (solver/steps.cpp).
//
// Each depth is asked once, in one growing solver: a goal that was shown to be out of reach at a depth is
// from then on a fact. The first depth with an answer has the fewest steps. That answer is then made smaller
// while the number of steps stays: fewest movements (an input differs from where it was at the end of the
// step before), then fewest ticks, each by asking for less than the last answer until there is none.
#include "solver/event_search.hpp"

#include <z3++.h>

#include <algorithm>
#include <chrono>
#include <limits>
#include <optional>
#include <string>
#include <utility>

#include "solver/steps.hpp"
#include "solver/verdict.hpp"

namespace detent::solver {
namespace {

using Clock = std::chrono::steady_clock;

z3::expr number(z3::context& context, Value value) {
  return context.int_val(static_cast<std::int64_t>(value));
}

/// What the machine remembers after its last tick.
std::vector<z3::expr> reached_memory(z3::context& context, const Machine& machine,
                                     const Interpreter& interpreter) {
  const std::vector<Value> values = interpreter.memory();
  std::vector<z3::expr> memory;
  for (std::size_t index = 0; index < values.size(); ++index) {
    memory.push_back(machine.memories[index].condition ? context.bool_val(values[index] != 0)
                                                       : number(context, values[index]));
  }
  return memory;
}

std::vector<z3::expr> input_terms(z3::context& context, const dsl::Circuit& circuit,
                                  const std::vector<Value>& values) {
  std::vector<z3::expr> terms;
  for (std::size_t input = 0; input < values.size(); ++input) {
    terms.push_back(circuit.inputs()[input].condition ? context.bool_val(values[input] != 0)
                                                      : number(context, values[input]));
  }
  return terms;
}

}  // namespace

struct EventSearch::State {
  State(z3::context& context_, const Machine& machine_, NodeId goal_, Value most_ticks_)
      : context(context_),
        machine(machine_),
        goal(goal_),
        most_ticks(most_ticks_),
        solver(make_solver(context_)),
        ticks(context_.int_val(0)),
        memory(starting_memory(context_, machine_)) {}

  State(z3::context& context_, const Machine& machine_, NodeId goal_, Value most_ticks_,
        const HandManner& manner_, const OnTheWay* start_)
      : State(context_, machine_, goal_, most_ticks_) {
    manner = &manner_;
    start = start_;
    rules.emplace(context, machine, manner_, start);
    if (start != nullptr) memory = reached_memory(context, machine, start->machine);
  }

  z3::context& context;
  const Machine& machine;
  const HandManner* manner = nullptr;
  const OnTheWay* start = nullptr;
  std::optional<HandRules> rules;
  NodeId goal;
  Value most_ticks;
  z3::solver solver;
  z3::expr ticks;  ///< before the last step
  std::vector<z3::expr> memory;
  std::vector<Step> steps;
  std::vector<z3::expr> movements;  ///< one truth value each
  std::optional<z3::model> found;   ///< what `answer` is read from, or a better one
  unsigned questions = 0;           ///< asked while shrinking
  std::vector<StepValues> answer;
  std::vector<std::vector<Value>>
      shown;  ///< by step: what Z3 says of every node in its tick, if that was read
  z3::expr asked{context};
  bool pending = false;  ///< the last step has been added, but Z3 has not answered yet
  unsigned patience = 0;
  std::vector<z3::expr> facts;  ///< all that the solver holds
  bool stale = false;           ///< the solver was stopped in the middle of a question
  int known = 0;                ///< steps at which the goal is known to be out of reach

  void add_step();
  void name_memory(const std::string& suffix);
  void follow_hands(const std::string& suffix);
  [[nodiscard]] std::vector<z3::expr> where_hands_stood();
  void read_answer();
  void read_shown();
  void set_patience(unsigned ms);
  [[nodiscard]] bool is_dead();
  [[nodiscard]] Answer end() const;
  void compare(const Run& run) const;
  void compare_on_the_way(const Run& run) const;
  void shrink_all(unsigned patience_ms);
  void keep(const z3::expr& fact);
  z3::check_result ask(const z3::expr_vector& assumptions);
  void shrink(const z3::expr& measure, Value least, Clock::time_point end);
};

void EventSearch::State::add_step() {
  const std::string suffix = "@" + std::to_string(steps.size());
  if (!steps.empty()) {
    const z3::expr later = ticks + 1 + steps.back().quiet.front();
    ticks = later;
  }
  name_memory(suffix);
  steps.push_back(make_step(context, machine, memory, suffix));
  for (const z3::expr& fact : steps.back().facts) {
    keep(fact);
  }
  keep(ticks < number(context, most_ticks));
  memory = steps.back().memory;
  follow_hands(suffix);
}

// A name for what is remembered between two steps keeps terms small however deep the search gets.
void EventSearch::State::name_memory(const std::string& suffix) {
  for (std::size_t index = 0; index < memory.size(); ++index) {
    z3::expr& term = memory[index];
    if (!term.is_const()) {
      const std::string name = "memory " + std::to_string(index) + suffix;
      const z3::expr named =
          term.is_bool() ? context.bool_const(name.c_str()) : context.int_const(name.c_str());
      keep(named == term);
      term = named;
    }
  }
}

// Before the last step; at power-up nowhere. A ramp that moved in the quiet ticks of the step before it
// counts as moved.
std::vector<z3::expr> EventSearch::State::where_hands_stood() {
  std::vector<z3::expr> stood;
  if (steps.size() > 1) {
    const Step& before = steps[steps.size() - 2];
    stood = before.inputs;
    for (std::size_t ramp = 0; ramp < machine.ramps.size(); ++ramp) {
      z3::expr& place = stood[machine.ramps[ramp].input];
      movements.push_back(place != before.moved[ramp]);
      place = before.moved[ramp];
    }
  } else if (start != nullptr) {
    stood = input_terms(context, *machine.circuit, start->inputs);
  }
  return stood;
}

void EventSearch::State::follow_hands(const std::string& suffix) {
  const std::vector<z3::expr> stood = where_hands_stood();
  const Step& now = steps.back();
  for (std::size_t input = 0; input < stood.size(); ++input) {
    movements.push_back(stood[input] != now.inputs[input]);
  }
  if (!rules) {
    return;
  }
  if (stood.empty()) {
    const std::vector<z3::expr> rest = input_terms(context, *machine.circuit, manner->rest);
    for (std::size_t input = 0; input < rest.size(); ++input)
      movements.push_back(rest[input] != now.inputs[input]);
  }
  for (const z3::expr& fact : rules->next(now, stood, suffix)) {
    keep(fact);
  }
}

void EventSearch::State::read_answer() {
  std::vector<StepValues> next;
  for (const Step& step : steps) {
    next.push_back(read_step(*found, step));
  }
  answer = std::move(next);
  shown.clear();
}

// Many values, and only good for a comparison, so they are read once, at the end.
void EventSearch::State::read_shown() {
  std::vector<std::vector<Value>> next;
  for (const Step& step : steps) {
    next.push_back(read_values(*found, step.values));
  }
  shown = std::move(next);
}

void EventSearch::State::keep(const z3::expr& fact) {
  facts.push_back(fact);
  solver.add(fact);
}

// A solver that was stopped in the middle of a question is not asked again: Z3 4.8.12 has been seen to answer
// `unsat` afterwards where it should not (it had been stopped while it still took the facts in).
z3::check_result EventSearch::State::ask(const z3::expr_vector& assumptions) {
  if (stale) {
    solver = make_solver(context);
    for (const z3::expr& fact : facts) {
      solver.add(fact);
    }
    stale = false;
    const unsigned wanted = std::exchange(patience, 0U);
    set_patience(wanted);
  }
  const z3::check_result result = solver.check(assumptions);
  stale = result == z3::unknown;
  return result;
}

// Setting parameters costs Z3 more than many a question, so it is done only when there is something to set.
void EventSearch::State::set_patience(unsigned ms) {
  if (ms == patience) {
    return;
  }
  patience = ms;
  z3::params params(context);
  params.set("timeout", ms == 0 ? std::numeric_limits<unsigned>::max() : ms);
  solver.set(params);
}

// Whether the constraints leave no way to take as many steps. Only worth asking where there are any.
bool EventSearch::State::is_dead() {
  const bool free = machine.constraints.empty() && static_cast<Value>(steps.size()) < most_ticks;
  return !free && ask(z3::expr_vector(context)) == z3::unsat;
}

EventSearch::Answer EventSearch::State::end() const {
  return static_cast<Value>(steps.size()) > most_ticks ? Answer::exhausted : Answer::dead;
}

// The interpreter must see in every step what Z3 saw.
void EventSearch::State::compare(const Run& run) const {
  if (start != nullptr) {
    compare_on_the_way(run);
    return;
  }
  const Trace trace = replay(*machine.circuit, run);
  std::size_t tick = 0;
  for (std::size_t step = 0; step < shown.size(); ++step) {
    for (NodeId node = 0; node < shown[step].size(); ++node) {
      if (trace.at(tick, node) != shown[step][node]) {
        throw InternalDisagreement{"the interpreter and the skipped steps differ at tick " +
                                   std::to_string(tick)};
      }
    }
    tick += static_cast<std::size_t>(1 + answer[step].quiet);
  }
}

void EventSearch::State::compare_on_the_way(const Run& run) const {
  Interpreter interpreter = start->machine;
  std::size_t tick = 0;
  for (std::size_t step = 0; step < shown.size(); ++step) {
    const auto next = tick + static_cast<std::size_t>(1 + answer[step].quiet);
    if (interpreter.step(run.inputs[tick]) != shown[step]) {
      throw InternalDisagreement{"the interpreter and the skipped steps differ " + std::to_string(tick) +
                                 " ticks on the way"};
    }
    while (++tick < std::min(next, run.ticks())) interpreter.step(run.inputs[tick]);
  }
}

// Asks for less until there is no less, or the time is over; then keeps the measure at the best. The first
// question is whether there is any less, as often there is not; halving the distance to the least after that
// makes large measures (ticks) cheap.
void EventSearch::State::shrink(const z3::expr& measure, Value least, Clock::time_point end) {
  Value best = read_value(*found, measure);
  bool first = true;
  while (best > least && Clock::now() < end) {
    const Value wanted = first ? best - 1 : least + (best - least) / 2;
    first = false;
    const std::string name = "shrunk " + std::to_string(questions++);
    const z3::expr less = context.bool_const(name.c_str());
    keep(z3::implies(less, measure <= number(context, wanted)));
    z3::expr_vector assumptions(context);
    assumptions.push_back(less);
    const z3::check_result answered = ask(assumptions);
    if (answered == z3::unknown) {
      return;  // out of patience: what was found stays as it is
    }
    if (answered == z3::sat) {
      found = solver.get_model();
      best = read_value(*found, measure);
    } else {
      least = wanted + 1;
    }
  }
  keep(measure <= number(context, best));
}

void EventSearch::State::shrink_all(unsigned patience_ms) {
  const Clock::time_point end = Clock::now() + std::chrono::milliseconds(patience_ms);
  set_patience(patience_ms);
  z3::expr_vector counted(context);
  for (const z3::expr& one : movements) {
    counted.push_back(z3::ite(one, number(context, 1), number(context, 0)));
  }
  if (!counted.empty()) {
    shrink(z3::sum(counted), 0, end);
  }
  shrink(ticks, static_cast<Value>(steps.size()) - 1, end);
  read_answer();
}

EventSearch::EventSearch(z3::context& context, const Machine& machine, NodeId goal, Value most_ticks)
    : state_(std::make_unique<State>(context, machine, goal, most_ticks)) {}
EventSearch::EventSearch(z3::context& context, const Machine& machine, NodeId goal, Value most_ticks,
                         const HandManner& manner, const OnTheWay* start)
    : state_(std::make_unique<State>(context, machine, goal, most_ticks, manner, start)) {}
EventSearch::~EventSearch() = default;
EventSearch::EventSearch(EventSearch&&) noexcept = default;
EventSearch& EventSearch::operator=(EventSearch&&) noexcept = default;

int EventSearch::steps() const {
  return state_->known;
}

EventSearch::Answer EventSearch::deepen(unsigned patience_ms) {
  State& state = *state_;
  if (!state.pending) {
    state.add_step();
    const std::string name = "goal@" + std::to_string(state.steps.size());
    const z3::expr asked = state.context.bool_const(name.c_str());
    state.asked = asked;
    state.keep(z3::implies(state.asked, state.steps.back().values[state.goal]));
    state.pending = true;
  }
  state.set_patience(patience_ms);
  z3::expr_vector assumptions(state.context);
  assumptions.push_back(state.asked);
  const z3::check_result answer = state.ask(assumptions);
  if (answer == z3::unknown) {
    return Answer::unknown;
  }
  if (answer == z3::sat) {
    state.found = state.solver.get_model();
    state.read_answer();
    state.keep(state.asked);
    return Answer::found;
  }
  state.pending = false;
  ++state.known;
  state.keep(!state.steps.back().values[state.goal]);
  return state.is_dead() ? state.end() : Answer::not_yet;
}

Value EventSearch::busy_ticks() const {
  Value ticks = 0;
  for (const StepValues& step : state_->answer) {
    ticks += 1 + ticks_moving(state_->machine, step);
  }
  return ticks;
}

void EventSearch::shrink(unsigned patience_ms) {
  State& state = *state_;
  try {
    if (patience_ms > 0 && (state.steps.size() > 1 || state.rules)) {
      state.shrink_all(patience_ms);
    }
    if (state.shown.empty()) {
      state.read_shown();
    }
  } catch (const z3::exception&) {
    // Interrupted: what was read last is a whole answer, only perhaps not the smallest.
  }
}

Run EventSearch::run(unsigned patience_ms) {
  shrink(patience_ms);
  Run run = expand(state_->machine, state_->answer);
  state_->compare(run);
  return run;
}

}  // namespace detent::solver
