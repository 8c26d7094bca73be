// The bench list: what is to be moved, and what it shows. The whole study as a call, with a plain result.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "cli/study.hpp"
#include "dsl/alter.hpp"
#include "dsl/front.hpp"
#include "solver/cases.hpp"
#include "solver/mcdc.hpp"
#include "solver/run.hpp"

namespace detent::cli {

using dsl::Value;

/// Somebody moves nothing sooner than this after the last movement.
inline constexpr std::int64_t human_pause_us = 200'000;

struct DrillWishes {
  solver::Mcdc variant = solver::Mcdc::unique_cause;
  bool changes = true;    ///< also let every small change of the design be seen
  bool elements = false;  ///< tell what to expect of every element, not of outputs alone
  std::vector<std::pair<std::string, solver::Run>> runs = {};  ///< with their names, to be part of the list
};

enum class GoalFate {
  met,        ///< by a step of the list
  never,      ///< proved: no run of any length does it
  undecided,  ///< neither a run nor a proof was found
};

/// Something that should happen in some tick of the list.
struct DrillGoal {
  enum class Kind { claim, point, decision } kind = Kind::point;
  std::string words;
  dsl::NodeId node = dsl::no_node;   ///< of DrillStudy::model
  std::optional<Value> within = {};  ///< ticks from power-up
  GoalFate fate = GoalFate::undecided;
  std::size_t round = 0;  ///< met: index, and in which tick
  Value tick = 0;
};

/// A decision, and which of its conditions the list shows to matter on their own.
struct DrilledDecision {
  std::string element, text;
  dsl::Place place;
  std::vector<std::string> conditions;
  std::vector<solver::Valuation> valuations;  ///< that the list goes through, of those that it needs
  std::vector<unsigned> shown;
  std::vector<unsigned> never;  ///< proved: no runs show it
  std::vector<unsigned> undecided;
  bool smallest = true;  ///< no fewer valuations would do
};

/// A small change of the design (dsl/slip_list.hpp), and whether the list tells it from the design.
struct DrilledChange {
  enum class Fate {
    seen,       ///< an output is otherwise for at least human_pause_us, however a hand times its steps
    recorded,   ///< an output is otherwise, but too short to be seen, or only if steps are timed to the tick
    no_effect,  ///< proved: no output is ever otherwise
    missed,     ///< some run tells, but none that could be made a part of the list
    undecided,
  } fate = Fate::undecided;
  dsl::Alteration what;
  std::size_t round = 0;  ///< seen, recorded: where it shows first
  Value tick = 0;
};

struct DrillRound {
  solver::Run run;      ///< keeps all assumptions
  std::string origin;   ///< "" for one that was worked out; else the name of the run that it is
  bool by_hand = true;  ///< false: found without regard to what hands can do
};

struct DrillStudy {
  dsl::Model model;  ///< of the design, with further nodes
  std::vector<std::uint32_t>
      shown;  ///< signals that the list tells what to expect of: the outputs, or all elements
  std::vector<DrillGoal> goals;
  std::vector<DrilledDecision> decisions;
  std::vector<DrilledChange> changes;
  std::vector<DrillRound> rounds;
  std::optional<Value> no_run_of =
      {};                ///< the assumptions leave no run of this many ticks; then there is no list
  bool stopped = false;  ///< by a limit or from outside
};

/// Never throws for limits. Throws solver::InternalDisagreement. `compiled` has a design.
[[nodiscard]] DrillStudy study_drill(const dsl::Compiled& compiled, const DrillWishes& wishes,
                                     solver::CaseOptions options, const StudyProgress& progress);

/// Ticks from one movement to the next.
[[nodiscard]] Value pause_ticks(const dsl::Model& model);

}  // namespace detent::cli
