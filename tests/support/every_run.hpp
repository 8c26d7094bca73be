// All runs of a small model, tick by tick on the interpreter: the slow and obvious twin of the bounded check.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "dsl/model.hpp"

namespace detent::test {

using Length = std::optional<std::size_t>;  ///< of the shortest run that does it, in ticks; none: no run does

struct EveryRun {
  bool complete = true;         ///< false: there were too many states, and nothing here means anything
  bool forever = false;         ///< no longer run would lead to anything new
  bool dead_end = false;        ///< some run can't go on
  std::vector<Length> watch;    ///< of each claim
  std::vector<Length> premise;  ///< of each claim that has one
  std::vector<Length> overlaps;
  std::vector<bool> changes;  ///< of each signal: two of its values were seen
  Length no_run_of;           ///< the smallest number of ticks of which there is no run
};

/// Looks at all runs of up to `ticks` ticks, but at no more than so many states with all their inputs.
[[nodiscard]] EveryRun every_run(const dsl::Model& model, std::size_t ticks, std::size_t most_steps);

}  // namespace detent::test
