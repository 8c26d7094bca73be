// Wishes are added one by one and taken back where Z3 says that they can't be had. The random part is there
// to get away from the dull runs that a solver likes (all zero, nothing skipped).
#include "tests/support/skipped_run.hpp"

#include <fmt/format.h>
#include <z3++.h>

#include <algorithm>
#include <vector>

#include "solver/interpreter.hpp"
#include "solver/steps.hpp"

namespace detent::test {
namespace {

using dsl::NodeId;
using dsl::Value;
using solver::Machine;

class Maker {
 public:
  Maker(const Machine& machine, Chance& chance) : machine_(machine), chance_(chance), solver_(context_) {
    z3::params params(context_);
    params.set("timeout", 2000U);
    solver_.set(params);
  }

  void make(std::size_t most_steps) {
    std::vector<z3::expr> memory = solver::starting_memory(context_, machine_);
    for (std::size_t number = 0; number < most_steps; ++number) {
      const solver::Step step = solver::make_step(context_, machine_, memory, fmt::format("@{}", number));
      solver_.push();
      for (const z3::expr& fact : step.facts) solver_.add(fact);
      if (solver_.check() != z3::sat) {
        solver_.pop();
        return;
      }
      steps_.push_back(step);
      wish_for_inputs(step);
      wish_for_quiet(step);
      memory = step.memory;
    }
  }

  void read() {
    if (steps_.empty() || solver_.check() != z3::sat) return;
    const z3::model model = solver_.get_model();
    for (const solver::Step& step : steps_) {
      taken.push_back(solver::read_step(model, step));
      shown.push_back(solver::read_values(model, step.values));
      kept.push_back(solver::read_values(model, step.memory));
    }
  }

  std::vector<solver::StepValues> taken;
  std::vector<std::vector<Value>> shown;  ///< by step: every node
  std::vector<std::vector<Value>> kept;   ///< by step: memory after it

 private:
  void wish(const z3::expr& condition) {
    solver_.push();
    solver_.add(condition);
    if (solver_.check() != z3::sat) solver_.pop();
  }

  void wish_for_inputs(const solver::Step& step) {
    const auto& inputs = machine_.circuit->inputs();
    for (std::size_t index = 0; index < inputs.size(); ++index) {
      if (chance_.one_in(2)) continue;
      const dsl::CircuitInput& input = inputs[index];
      const Value places = (input.range.high - input.range.low) / input.step;
      const Value value = input.range.low + input.step * chance_.between(0, places);
      wish(input.condition ? (value != 0 ? step.inputs[index] : !step.inputs[index])
                           : step.inputs[index] == context_.int_val(static_cast<std::int64_t>(value)));
    }
  }

  void wish_for_quiet(const solver::Step& step) {
    const z3::expr& quiet = step.quiet.front();
    const std::vector<int> lengths{1, 2, 5, 40};
    wish(quiet >= chance_.pick(lengths));
    wish(quiet <= 200);
    for (std::size_t ramp = 0; ramp < machine_.ramps.size(); ++ramp) {
      wish(step.moved[ramp] != step.inputs[machine_.ramps[ramp].input]);
    }
  }

  const Machine& machine_;
  Chance& chance_;
  z3::context context_;
  z3::solver solver_;
  std::vector<solver::Step> steps_;
};

class Comparison {
 public:
  Comparison(const Machine& machine, const dsl::Circuit& judge, const Maker& made)
      : machine_(machine), judge_(judge), player_(judge), made_(made) {}

  SkippedRun compare() {
    result_.steps = made_.taken.size();
    const solver::Run run = solver::expand(machine_, made_.taken);
    if (!solver::is_well_formed(judge_, run)) return fail("an input that its hand can't give", 0);
    std::size_t tick = 0;
    for (std::size_t step = 0; step < made_.taken.size() && result_.difference.empty(); ++step) {
      const bool last = step + 1 == made_.taken.size();
      const Value quiet = last ? 0 : made_.taken[step].quiet;
      result_.quiet += quiet;
      for (Value passed = 0; passed <= quiet && result_.difference.empty(); ++passed, ++tick) {
        compare_tick(run.inputs[tick], step, passed, tick);
        note_ramps(run, tick, passed);
      }
      if (!last && result_.difference.empty() && player_.memory() != made_.kept[step]) {
        fail("what is remembered", tick);
      }
    }
    return result_;
  }

 private:
  SkippedRun fail(const std::string& what, std::size_t tick) {
    result_.difference = fmt::format("{} at tick {}", what, tick);
    return result_;
  }

  void compare_tick(const std::vector<Value>& inputs, std::size_t step, Value passed, std::size_t tick) {
    const std::vector<Value>& values = player_.step(inputs);
    for (NodeId id = 0; id < values.size(); ++id) {
      // In skipped ticks clocks count and ramps move, but nothing that is a condition may change.
      const bool compared = passed == 0 || judge_.node(id).condition;
      if (compared && values[id] != made_.shown[step][id]) {
        fail(fmt::format("node {} is {}, and {} for Z3,", id, values[id], made_.shown[step][id]), tick);
        return;
      }
    }
    for (const NodeId constraint : machine_.constraints) {
      if (values[constraint] == 0) fail("a broken constraint", tick);
    }
  }

  void note_ramps(const solver::Run& run, std::size_t tick, Value passed) {
    for (const solver::Ramp& ramp : machine_.ramps) {
      result_.ramp_moved = result_.ramp_moved ||
                           (passed > 0 && run.inputs[tick][ramp.input] != run.inputs[tick - 1][ramp.input]);
    }
  }

  const Machine& machine_;
  const dsl::Circuit& judge_;
  solver::Interpreter player_;
  const Maker& made_;
  SkippedRun result_;
};

}  // namespace

SkippedRun skipped_run(const Machine& machine, const dsl::Circuit& judge, std::size_t most_steps,
                       Chance& chance) {
  Maker made(machine, chance);
  made.make(most_steps);
  made.read();
  if (made.taken.empty()) return {};
  return Comparison(machine, judge, made).compare();
}

}  // namespace detent::test
