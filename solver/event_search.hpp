// The search for a run that makes a condition true, step by skipped step: fewest steps first, then fewest
// movements, then fewest ticks. Private to the solver.
#pragma once

#include <memory>
#include <optional>

#include "solver/hand_rules.hpp"
#include "solver/machine.hpp"
#include "solver/run.hpp"

namespace z3 {
class context;
}

namespace detent::solver {

class EventSearch {
 public:
  /// Looks for a run of at most `most_ticks` ticks that ends with `goal` true. All must outlive the search.
  EventSearch(z3::context& context, const Machine& machine, NodeId goal, Value most_ticks);
  /// The same for movements that one person can do, from power-up on or, with `start`, from somewhere on the
  /// way: then tick 0 of the run is the tick after that.
  EventSearch(z3::context& context, const Machine& machine, NodeId goal, Value most_ticks,
              const HandManner& manner, const OnTheWay* start);
  ~EventSearch();
  EventSearch(EventSearch&&) noexcept;
  EventSearch& operator=(EventSearch&&) noexcept;

  enum class Answer {
    found,      ///< run() is it
    not_yet,    ///< no run of steps() steps does it, and steps() is one more than before
    exhausted,  ///< no run of any number of steps within `most_ticks` does it (more steps would be too long)
    dead,       ///< no run has more steps at all: the constraints leave none
    unknown,    ///< Z3 gave up, was interrupted or ran out of time
  };
  /// Looks at one step more than before; after `unknown`, at the same again. 0: as long as it takes.
  Answer deepen(unsigned patience_ms);

  /// No run of so many steps does it: Z3 has said so of each number up to it. A question that was stopped
  /// does not count, and a run that was found has one step more.
  [[nodiscard]] int steps() const;
  /// Makes the run found small, within about `patience_ms`.
  void shrink(unsigned patience_ms);
  /// Ticks of the run found in which a hand may be elsewhere than one tick before.
  [[nodiscard]] Value busy_ticks() const;
  /// The run found, made small within about `patience_ms` (0: as found), and compared with the interpreter
  /// step by step, unless Z3 was stopped while it told its values; throws InternalDisagreement where the two
  /// differ.
  [[nodiscard]] Run run(unsigned patience_ms);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace detent::solver
