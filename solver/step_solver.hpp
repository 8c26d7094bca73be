// The questions that a property-directed search asks about one step. Private to the solver: names Z3's types,
// but does not include its header.
#pragma once

#include <cstddef>
#include <memory>
#include <set>
#include <vector>

#include "solver/bounds.hpp"
#include "solver/invariant.hpp"
#include "solver/machine.hpp"

namespace z3 {
class context;
class expr;
class model;
template <typename T>
class ast_vector_tpl;
using expr_vector = ast_vector_tpl<expr>;
}  // namespace z3

namespace detent::solver {

/// Z3 gave up or was stopped: nothing that was in hand is of use.
struct GaveUp {};

/// That not all of these bounds hold.
[[nodiscard]] Clause denied(const Cube& cube);

/// One step from any memory, with a switch for every bound before and after it. A second solver has the same
/// terms, but not what makes a step from a memory one that the machine can take: there the question is from
/// which memories one chosen step can be taken at all, and where it leads. Questions throw GaveUp.
class StepSolver {
 public:
  /// `watch`: a condition of the machine's circuit. `known`: holds before every step. The context and the
  /// machine must outlive it.
  StepSolver(z3::context& context, const Machine& machine, NodeId watch, const Invariant& known);
  ~StepSolver();

  /// A clause of frame `level`, and so of all frames before it.
  void learn(const Clause& clause, std::size_t level);

  // ---- switches ----
  [[nodiscard]] z3::expr frame(std::size_t level);
  /// The condition is seen in the step.
  [[nodiscard]] const z3::expr& watched() const;
  [[nodiscard]] z3::expr before(const Atom& atom);
  [[nodiscard]] z3::expr after(const Atom& atom);
  /// A new one: this is not so before the step.
  [[nodiscard]] z3::expr outside(const Cube& cube);
  /// A new one, lifting: the step can't be taken, or this is not so after it.
  [[nodiscard]] z3::expr misses(const Cube& cube);
  /// Lifting: the step can't be taken, or the condition is not seen in it.
  [[nodiscard]] z3::expr unwatched();
  /// New ones, lifting: they pin whatever the step chose, inputs, quiet time and ramps.
  [[nodiscard]] z3::expr_vector choices(const z3::model& model);

  // ---- questions: whether these switches can all be on ----
  [[nodiscard]] bool ask(const z3::expr_vector& assumptions);
  [[nodiscard]] bool ask_lifter(const z3::expr_vector& assumptions);
  /// After yes.
  [[nodiscard]] z3::model model() const;
  /// After no: the ids of the switches that are enough for it.
  [[nodiscard]] std::set<unsigned> core() const;
  [[nodiscard]] std::set<unsigned> lifted_core() const;

  [[nodiscard]] const std::vector<z3::expr>& memory_before() const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace detent::solver
