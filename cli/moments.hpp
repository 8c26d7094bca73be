// A run as the moments in which something happens: what the hands move, and what the design answers.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "dsl/model.hpp"
#include "solver/run.hpp"

namespace detent::cli {

using dsl::Value;

struct Change {
  std::uint32_t signal = 0;  ///< index into Model::signals
  Value from = 0;
  Value to = 0;
};

struct Moment {
  Value tick = 0;
  Value until = 0;                   ///< tick, or later for a level that moves a step every tick until then
  std::vector<Change> moves = {};    ///< by hand
  std::vector<Change> answers = {};  ///< by the design
};

/// The moments from tick `from` on in which one of `signals` changes, in order. A stretch of ticks in which
/// the same levels move on in the same direction, and nothing else happens, is one moment.
[[nodiscard]] std::vector<Moment> find_moments(const dsl::Model& model, const solver::Trace& trace,
                                               const std::vector<std::uint32_t>& signals,
                                               std::size_t from = 1);

}  // namespace detent::cli
