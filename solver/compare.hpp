// Two designs side by side, for all time: where they part, what each claim comes to in either, and a few
// figures that say how hard each is to unlock and how soon it stops.
#pragma once

#include <array>
#include <chrono>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "dsl/side_by_side.hpp"
#include "solver/cancel.hpp"
#include "solver/verdict.hpp"

namespace detent::solver {

// ---- What is asked ----

/// One claim, as index into the Model::claims of A and of B; absent where it can't be asked of one.
struct ClaimRow {
  std::array<std::optional<std::uint32_t>, 2> claim = {};  ///< by design
};

/// Conditions of one design, as nodes of its own circuit; no_node: figures that need it are left out.
struct FigureConditions {
  NodeId goal = dsl::no_node;  ///< what the steps of the design lead to: it is live
  NodeId lock = dsl::no_node;  ///< what is to stop everything: the guard is at safe
  NodeId rest = dsl::no_node;  ///< the outputs stand still
};

/// What to ask beside where they part.
struct CompareQuestions {
  std::vector<ClaimRow> claims;                  ///< claims to decide
  std::array<FigureConditions, 2> figures = {};  ///< by design
};

/// How far to go, and who is told.
struct CompareOptions {
  /// For each group of questions that look at the same part of the designs.
  std::optional<std::chrono::milliseconds> timeout = {};
  std::optional<std::size_t> memory_mib = {};  ///< what Z3 may use; see check_forever
  Cancel cancel = {};                          ///< whether to stop
  std::function<void(std::size_t open)> progress =
      {};             ///< questions left of the present round; from several threads, one at a time
  unsigned jobs = 1;  ///< threads, at least 1
};

// ---- What is answered ----

/// Whether some run parts them so: `shown` by a run of the fewest events; `refuted` with a proof if none of
/// any length does; else `undecided`.
struct PartingAnswer {
  dsl::Parting parting = dsl::Parting::differ;  ///< in which way
  Verdict verdict = {};                         ///< its run is one of the joined circuit
};

/// What is known of two signals.
struct SignalAnswer {
  std::size_t compared = 0;                  ///< index into SideBySide::compared
  std::vector<PartingAnswer> partings = {};  ///< one for each of its ways
  /// Whether any of its ways has this outcome.
  [[nodiscard]] bool any(Outcome outcome) const;
  /// Proved the same in every run of any length.
  [[nodiscard]] bool same() const { return !any(Outcome::shown) && !any(Outcome::undecided); }
};

/// A number that is worked out for each design.
enum class FigureKind {
  movements_to_goal,  ///< fewest movements from power-up to the goal; where hands stand at power-up is free
  slips_to_goal,      ///< fewest inputs that move at all, however often, from power-up to the goal
  time_to_goal,       ///< ticks from power-up to the goal, at least
  movements_to_lock,  ///< fewest movements from the tick after the goal came on to the tick in which it goes
                      ///< off
  time_to_rest,  ///< ticks from the lock going on to the last time that the outputs come to rest, at most
};

/// One number, and how far it is known.
struct Figure {
  FigureKind kind = FigureKind::movements_to_goal;  ///< what is counted
  /// How far it is known.
  enum class State {
    exact,      ///< `value`, shown by `run` (time_to_rest of 0 ticks has none), and proved that there is no
                ///< better
    none,       ///< no run of any length gets there
    endless,    ///< time_to_rest: `run` ends where the outputs never come to rest while the lock stays on
    undecided,  ///< a limit was reached: `value` is the best that a run shows, if there is one
    left_out,   ///< a condition that it needs was not given
  } state = State::left_out;    ///< says which of the rest are there
  Value value = 0;              ///< movements, inputs or ticks
  Value floor = 0;              ///< undecided, fewest and shortest: proved that it is not less than this
  Limit limit = Limit::none;    ///< undecided: why
  std::optional<Run> run = {};  ///< the evidence, of the joined circuit
};

/// All that is known of two designs.
struct Comparison {
  std::vector<SignalAnswer> signals;                          ///< in the order of SideBySide::compared
  std::vector<std::array<std::optional<Verdict>, 2>> claims;  ///< in the order of the rows
  std::array<std::vector<Figure>, 2> figures;                 ///< by design, one of each kind in order
  /// Set where assumptions leave no run of this many ticks: nothing else is known then.
  struct Contradiction {
    std::optional<std::size_t> side = {};  ///< of this design alone; absent: of both together
    Value ticks = 0;                       ///< that no run has
    std::vector<std::string> names = {};   ///< of assumptions that leave none, as few as could be found
  };
  std::optional<Contradiction> contradiction = {};  ///< see Contradiction
  Statistics statistics;                            ///< of all questions
};

/// All runs are of the joined circuit, and every one has been played again on both designs' own circuits;
/// throws InternalDisagreement where those do something else. Signals are compared over the runs that keep
/// the assumptions of both designs; claims and figures of a design over those that keep its own. `both` must
/// be a and b side by side. Never throws for limits. Threads: as for check_forever.
[[nodiscard]] Comparison compare(const dsl::Model& a, const dsl::Model& b, const dsl::SideBySide& both,
                                 const CompareQuestions& questions, const CompareOptions& options);

/// What one of the two designs does in a run of both: a run of its own circuit.
[[nodiscard]] Run run_of_side(const dsl::Model& design, const dsl::SideBySide& both, std::size_t side,
                              const Run& run);

}  // namespace detent::solver
