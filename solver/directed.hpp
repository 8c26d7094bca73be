// Property-directed search for an invariant: what guesses have missed is learnt from the steps that break the
// claim. Private to the solver; the essay is in directed.cpp.
#pragma once

#include <chrono>
#include <functional>
#include <memory>

#include "solver/invariant.hpp"
#include "solver/machine.hpp"

namespace z3 {
class context;
}

namespace detent::solver {

class DirectedSearch {
 public:
  /// `watch`: a condition of the machine's circuit. `known`: facts that are invariants already. The context
  /// and the machine must outlive the search.
  DirectedSearch(z3::context& context, const Machine& machine, NodeId watch, const Invariant& known);
  ~DirectedSearch();

  enum class Answer {
    found,       ///< clauses() with what was known is an invariant under which `watch` is never true
    may_happen,  ///< a chain of steps from the start to `watch` may exist: look for a run
    not_yet,     ///< the time was over; go_on() again goes on
    unknown,     ///< Z3 gave up or was interrupted; there is no going on
  };
  [[nodiscard]] Answer go_on(std::chrono::milliseconds patience);

  [[nodiscard]] Invariant clauses() const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace detent::solver
