// Induction over steps: which guesses are invariants, and which claims follow from them. Private to the
// solver.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "solver/invariant.hpp"
#include "solver/machine.hpp"

namespace z3 {
class context;
}

namespace detent::solver {

class Induction {
 public:
  /// Both must outlive it.
  Induction(z3::context& context, const Machine& machine);
  ~Induction();

  /// Adds to the invariant what is left of these guesses when all that are not kept up by the rest are thrown
  /// out. False if Z3 gave up or was interrupted; then nothing is added.
  bool strengthen(const std::vector<Clause>& guesses);
  [[nodiscard]] const Invariant& invariant() const;

  enum class Answer { proved, not_proved, unknown };
  /// Whether k steps that start where the invariant holds, and of which the first k-1 are free of `watch`,
  /// can't have it true in the last. Together with "no run of k-1 steps makes it true" that proves it never
  /// is.
  Answer prove(NodeId watch, int k);

  /// A part of the invariant that keeps itself up and suffices for prove(watch, k): small, not always
  /// smallest.
  [[nodiscard]] std::optional<Invariant> core(NodeId watch, int k);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace detent::solver
