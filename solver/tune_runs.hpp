// What a run that was found at one value shows at another. Private to solver/tune.cpp.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "dsl/model.hpp"
#include "solver/run.hpp"

namespace detent::solver {

struct Seen {
  std::optional<std::uint32_t> broken = {};  ///< the safety claim that is broken first
  std::size_t ticks = 0;                     ///< with `broken`: the length of the run to it
  std::vector<std::uint32_t> shown = {};     ///< `possible` claims that the run does in time
};

/// Plays the run on the interpreter for as long as it keeps the constraints and until a safety claim breaks.
/// A run with inputs that the model does not have shows nothing.
[[nodiscard]] Seen look_at(const dsl::Model& model, const Run& run);

/// Calls `attempt` with the run in which stretches of unchanging inputs last longer or shorter by one of
/// these amounts (ticks), in all combinations over the longest stretches, until it answers true or there are
/// no more. Whether it did.
bool try_stretched(const Run& run, const std::vector<Value>& amounts,
                   const std::function<bool(const Run&)>& attempt);

}  // namespace detent::solver
