// Skipped steps held against the interpreter: a run that Z3 makes step by step, looked at tick by tick.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "solver/machine.hpp"
#include "tests/support/chance.hpp"

namespace detent::test {

struct SkippedRun {
  std::size_t steps = 0;
  dsl::Value quiet = 0;         ///< ticks that were skipped, in all
  bool ramp_moved = false;      ///< a rate-limited channel moved while ticks were skipped
  std::string difference = {};  ///< in words, between Z3 and the interpreter; none if empty
};

/// A run of up to so many steps, with inputs and quiet times wished for at random as far as the machine
/// allows, its ticks played on `judge`, whose nodes are numbered like the machine's circuit (or are it).
/// Compared are: every node in each step's tick; every condition and constraint in each skipped tick; all
/// memory at the end.
[[nodiscard]] SkippedRun skipped_run(const solver::Machine& machine, const dsl::Circuit& judge,
                                     std::size_t most_steps, Chance& chance);

}  // namespace detent::test
