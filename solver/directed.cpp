// Property-directed reachability (Bradley, "SAT-based model checking without unrolling", VMCAI 2011; Eén,
// Mishchenko, Brayton, "Efficient implementation of property directed reachability", FMCAD 2011), over
// skipped steps.
//
// Frames F1, F2, … are sets of clauses: Fi holds of all that the machine can remember after fewer than i + 1
// steps. A memory from which one step shows the condition must be shown to be out of reach: either no step
// from the frame before leads to it, and a clause that says "not there" is learnt, or one does, and the
// memory that it starts from must be shown to be out of reach one frame earlier. When two frames say the
// same, they are an invariant.
//
// Here a memory is described by bounds: a condition's value, least and most of a number, most of the
// difference of two clocks that still count. The bounds are first taken as wide as the design's own numbers
// allow (a *region*: Alur and Dill 1994), and only where that says too little as narrow as the numbers met;
// what is learnt is widened again bound by bound. So the thousand values of a window are shown to be out of
// reach at once, not one after the other.
//
// What is found is not believed here: solver/reach.cpp puts the clauses to Induction, as it does with
// guesses.
#include "solver/directed.hpp"

#include <z3++.h>

#include <algorithm>
#include <set>
#include <utility>

#include "solver/bounds.hpp"
#include "solver/step_solver.hpp"
#include "solver/steps.hpp"

namespace detent::solver {
namespace {

using Clock = std::chrono::steady_clock;

/// To be shown out of reach after `level` steps.
struct Obligation {
  std::size_t level = 0;
  Cube cube;
};

}  // namespace

struct DirectedSearch::State {
  State(z3::context& context_, const Machine& machine_, NodeId watch, const Invariant& known)
      : context(context_), machine(machine_), bounds(machine_), solver(context_, machine_, watch, known) {
    for (const Memory& memory : machine.memories) start.push_back(memory.start);
    frames.resize(2);
  }

  z3::context& context;
  const Machine& machine;
  Bounds bounds;
  StepSolver solver;
  std::vector<Value> start;
  /// frames[i]: clauses that hold after up to i steps, and are not known to hold after more. frames[0] is
  /// unused.
  std::vector<std::vector<Clause>> frames;
  std::vector<Obligation> obligations;
  Invariant result;
  Clock::time_point end;

  [[nodiscard]] std::size_t depth() const { return frames.size() - 1; }
  [[nodiscard]] bool covers_start(const Cube& cube) const {
    return std::all_of(cube.begin(), cube.end(), [&](const Atom& atom) { return holds(atom, start); });
  }

  Answer work();
  bool start_is_bad();
  std::optional<Cube> bad_memory();
  bool block();
  Cube describe(const std::vector<Value>& memory, const z3::expr_vector& choices, const z3::expr& escape);
  std::optional<Cube> blocked(const Cube& cube, std::size_t level, std::optional<Cube>* from);
  Cube widened(Cube cube, std::size_t level);
  void learn(const Cube& cube, std::size_t level);
  bool push_forward();
  void assume_frame(z3::expr_vector& assumptions, std::size_t level);
};

// Frame 0 is the start itself, as it was put down in `known` terms: only memories equal to it.
void DirectedSearch::State::assume_frame(z3::expr_vector& assumptions, std::size_t level) {
  if (level == 0) {
    for (const Atom& atom : bounds.exact(start)) assumptions.push_back(solver.before(atom));
    return;
  }
  for (std::size_t at = level; at <= depth(); ++at) assumptions.push_back(solver.frame(at));
}

bool DirectedSearch::State::start_is_bad() {
  z3::expr_vector assumptions(context);
  assume_frame(assumptions, 0);
  assumptions.push_back(solver.watched());
  return solver.ask(assumptions);
}

/// What the memory had to be for the step to go as it went: as wide as can be shown. `escape`: it went
/// otherwise.
Cube DirectedSearch::State::describe(const std::vector<Value>& memory, const z3::expr_vector& choices,
                                     const z3::expr& escape) {
  for (const Cube& cube : bounds.descriptions(memory)) {
    z3::expr_vector assumptions(context);
    for (unsigned index = 0; index < choices.size(); ++index) {
      assumptions.push_back(choices[static_cast<int>(index)]);
    }
    assumptions.push_back(escape);
    for (const Atom& atom : cube) assumptions.push_back(solver.before(atom));
    if (solver.ask_lifter(assumptions)) continue;
    const std::set<unsigned> core = solver.lifted_core();
    Cube needed;
    for (const Atom& atom : cube) {
      if (core.count(solver.before(atom).id()) != 0) needed.push_back(atom);
    }
    return needed;
  }
  return bounds.exact(memory);
}

std::optional<Cube> DirectedSearch::State::bad_memory() {
  z3::expr_vector assumptions(context);
  assume_frame(assumptions, depth());
  assumptions.push_back(solver.watched());
  if (!solver.ask(assumptions)) return std::nullopt;
  const z3::model model = solver.model();
  const std::vector<Value> memory = read_values(model, solver.memory_before());
  const z3::expr_vector choices = solver.choices(model);
  return describe(memory, choices, solver.unwatched());
}

/// The part of a cube that no step from frame `level` - 1 and from outside the cube leads to; or, where one
/// does, where it comes from.
std::optional<Cube> DirectedSearch::State::blocked(const Cube& cube, std::size_t level,
                                                   std::optional<Cube>* from) {
  z3::expr_vector assumptions(context);
  assume_frame(assumptions, level - 1);
  assumptions.push_back(solver.outside(cube));
  for (const Atom& atom : cube) assumptions.push_back(solver.after(atom));
  if (solver.ask(assumptions)) {
    if (from != nullptr) {
      const z3::model model = solver.model();
      const std::vector<Value> memory = read_values(model, solver.memory_before());
      const z3::expr_vector choices = solver.choices(model);
      *from = level == 1 ? bounds.exact(start) : describe(memory, choices, solver.misses(cube));
    }
    return std::nullopt;
  }
  const std::set<unsigned> core = solver.core();
  Cube needed;
  Cube rest;
  for (const Atom& atom : cube) {
    (core.count(solver.after(atom).id()) != 0 ? needed : rest).push_back(atom);
  }
  // The start must stay outside.
  for (const Atom& atom : rest) {
    if (!covers_start(needed)) break;
    if (!holds(atom, start)) needed.push_back(atom);
  }
  return needed;
}

/// Leaves bounds out, or widens them, as long as nothing leads there.
Cube DirectedSearch::State::widened(Cube cube, std::size_t level) {
  for (std::size_t index = 0; index < cube.size() && Clock::now() < end;) {
    Cube less = cube;
    less.erase(less.begin() + static_cast<std::ptrdiff_t>(index));
    const auto kept = covers_start(less) ? std::nullopt : blocked(less, level, nullptr);
    if (kept) {
      cube = *kept;
      index = 0;
      continue;
    }
    const std::optional<Atom> wider = bounds.widened(cube[index]);
    if (wider) {
      Cube wide = cube;
      wide[index] = *wider;
      if (!covers_start(wide) && blocked(wide, level, nullptr)) cube = wide;
    }
    ++index;
  }
  return cube;
}

void DirectedSearch::State::learn(const Cube& cube, std::size_t level) {
  const Clause clause = denied(cube);
  frames[level].push_back(clause);
  solver.learn(clause, level);
}

/// False where the start leads to what must be out of reach.
bool DirectedSearch::State::block() {
  while (!obligations.empty() && Clock::now() < end) {
    const auto next =
        std::min_element(obligations.begin(), obligations.end(),
                         [](const Obligation& a, const Obligation& b) { return a.level < b.level; });
    const Obligation now = *next;
    if (now.level == 0 || covers_start(now.cube)) return false;
    std::optional<Cube> from;
    const std::optional<Cube> kept = blocked(now.cube, now.level, &from);
    if (!kept) {
      obligations.push_back({now.level - 1, *from});
      continue;
    }
    obligations.erase(next);
    const Cube wide = widened(*kept, now.level);
    std::size_t level = now.level;
    while (level < depth() && blocked(wide, level + 1, nullptr)) ++level;
    learn(wide, level);
    if (level < depth()) obligations.push_back({level + 1, now.cube});
  }
  return true;
}

/// Moves clauses to the next frame where they hold there too. True if a frame has nothing left of its own.
bool DirectedSearch::State::push_forward() {
  for (std::size_t level = 1; level < depth(); ++level) {
    std::vector<Clause> stay;
    for (const Clause& clause : frames[level]) {
      if (blocked(denied(clause), level + 1, nullptr)) {
        frames[level + 1].push_back(clause);
        solver.learn(clause, level + 1);
      } else {
        stay.push_back(clause);
      }
    }
    frames[level] = std::move(stay);
    if (frames[level].empty()) {
      for (std::size_t above = level + 1; above < frames.size(); ++above) {
        result.insert(result.end(), frames[above].begin(), frames[above].end());
      }
      return true;
    }
  }
  return false;
}

DirectedSearch::Answer DirectedSearch::State::work() {
  if (start_is_bad()) return Answer::may_happen;
  while (Clock::now() < end) {
    if (!block()) return Answer::may_happen;
    if (!obligations.empty()) break;
    if (const auto bad = bad_memory()) {
      obligations.push_back({depth(), *bad});
      continue;
    }
    frames.emplace_back();
    if (push_forward()) return Answer::found;
  }
  return Answer::not_yet;
}

DirectedSearch::DirectedSearch(z3::context& context, const Machine& machine, NodeId watch,
                               const Invariant& known)
    : state_(std::make_unique<State>(context, machine, watch, known)) {}
DirectedSearch::~DirectedSearch() = default;

DirectedSearch::Answer DirectedSearch::go_on(std::chrono::milliseconds patience) {
  state_->end = Clock::now() + patience;
  try {
    return state_->work();
  } catch (const GaveUp&) {
    return Answer::unknown;
  }
}

Invariant DirectedSearch::clauses() const {
  return state_->result;
}

}  // namespace detent::solver
