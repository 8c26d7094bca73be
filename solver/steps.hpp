// A machine put to Z3, step by step: one step is an ordinary tick and the quiet ticks after it.
// The essay is in steps.cpp. Private to the solver: names Z3's types, but does not include its header.
//
// For all who hold terms: in z3++ 4.8 an expr that is overwritten by a temporary one (x = x + y) never gives
// back what it held, and giving back the context then takes a pass over all of Z3's tables for each level of
// what is left. So terms are overwritten by named ones.
#pragma once

#include <string>
#include <vector>

#include "solver/machine.hpp"
#include "solver/run.hpp"

namespace z3 {
class context;
class expr;
class model;
class solver;
}  // namespace z3

namespace detent::solver {

/// The terms of one step. Integers and conditions.
struct Step {
  std::vector<z3::expr> inputs;  ///< by input of the circuit, at the tick
  std::vector<z3::expr> values;  ///< by node, at the tick
  std::vector<z3::expr> moved;   ///< by ramp: where its channel is after the quiet ticks
  std::vector<z3::expr> memory;  ///< by memory, after the quiet ticks
  std::vector<z3::expr> quiet;   ///< one term: how many quiet ticks, >= 0
  std::vector<z3::expr> facts;   ///< what makes it a step that the machine can do
};

/// A solver for questions about steps: incremental, without tactics.
[[nodiscard]] z3::solver make_solver(z3::context& context);

/// The unknown place on the grid of values, and a number that grows with it (Machine::unknown).
[[nodiscard]] z3::expr unknown_row(z3::context& context);
[[nodiscard]] z3::expr unknown_column(z3::context& context);
[[nodiscard]] z3::expr term_of(z3::context& context, const Even& number);

/// Terms for what the machine remembers before tick 0.
[[nodiscard]] std::vector<z3::expr> starting_memory(z3::context& context, const Machine& machine);

/// Fresh terms for a memory about which nothing is known but its ranges, which are added to `facts`.
[[nodiscard]] std::vector<z3::expr> any_memory(z3::context& context, const Machine& machine,
                                               const std::string& suffix, std::vector<z3::expr>& facts);

/// One step from `before`. Names of fresh terms end in `suffix`, which must be new.
[[nodiscard]] Step make_step(z3::context& context, const Machine& machine,
                             const std::vector<z3::expr>& before, const std::string& suffix);

/// What a model of Z3 says of one step.
struct StepValues {
  std::vector<Value> inputs;
  std::vector<Value> moved;  ///< by ramp
  Value quiet = 0;
};
[[nodiscard]] StepValues read_step(const z3::model& model, const Step& step);
/// Throws z3::exception where Z3 was stopped and so tells no value.
[[nodiscard]] Value read_value(const z3::model& model, const z3::expr& term);
[[nodiscard]] std::vector<Value> read_values(const z3::model& model, const std::vector<z3::expr>& terms);

/// Of the quiet ticks of a step, those until all ramps are where they go.
[[nodiscard]] Value ticks_moving(const Machine& machine, const StepValues& step);

/// The steps tick by tick; of the last one only its tick.
[[nodiscard]] Run expand(const Machine& machine, const std::vector<StepValues>& steps);

}  // namespace detent::solver
