// A bench list as people work through it: steps, what to do, what to expect and when.
#pragma once

#include <string>
#include <vector>

#include "cli/drill_study.hpp"
#include "cli/player.hpp"

namespace detent::cli {

struct Expectation {
  Value after = 0;  ///< ticks after the step begins
  std::uint32_t signal = 0;
  Value value = 0;
  bool changed = true;  ///< false: told for completeness, as it was before
};

/// Power-up, or a movement, and all that follows up to the next.
struct DrillStep {
  Value tick = 0;
  Value until = 0;  ///< last tick of the movement; later than `tick` for a slow one
  Value last = 0;   ///< last tick before the next step
  std::vector<std::pair<std::uint32_t, Value>> moves = {};  ///< signal and value; at power-up every hand
  std::vector<Expectation> expectations = {};
  bool many_hands = false;      ///< more than one thing moves in one tick
  bool hasty = false;           ///< sooner than human_pause_us after the step before
  bool exact = false;           ///< what follows would be otherwise if it came human_slip_us sooner or later
  bool hangs_on_exact = false;  ///< what is expected here would be otherwise if some `exact` step came so
};

/// Somebody who means to move something at a moment does it so much sooner or later.
inline constexpr std::int64_t human_slip_us = 100'000;

struct SheetRound {
  std::vector<DrillStep> steps;
  HandRun hands;
};

/// The steps of one round.
[[nodiscard]] SheetRound drill_steps(const DrillStudy& study, const DrillRound& round);

/// One for each of the study's rounds.
[[nodiscard]] std::vector<SheetRound> drill_sheet(const DrillStudy& study);

/// Movements, without power-up.
[[nodiscard]] std::size_t movements_of(const std::vector<SheetRound>& sheet);

}  // namespace detent::cli
