// Where the columns of a timing diagram stand: the moments of a run laid out in as many columns as there are.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "dsl/model.hpp"
#include "solver/run.hpp"

namespace detent::cli {

/// The ticks from one moment to the next.
struct Stretch {
  dsl::Value from = 0;
  dsl::Value end = 0;    ///< the tick after its last
  bool moving = false;   ///< a level moves on in every tick of it
  std::size_t left = 0;  ///< first column
  std::size_t width = 0;
  [[nodiscard]] bool is_short() const { return end - from <= 1; }
};

struct Layout {
  std::vector<Stretch> stretches;  ///< those that are shown, from left to right; the last is the last tick
  std::size_t cut = 0;             ///< how many are not shown, before the first
  std::size_t width = 0;           ///< columns in all
};

/// The value of a signal in a stretch (at its end, where it moves).
[[nodiscard]] dsl::Value value_in(const solver::Trace& trace, const dsl::Signal& signal,
                                  const Stretch& stretch);

/// Whether the signal has one value in all of them.
[[nodiscard]] bool stays(const solver::Trace& trace, const dsl::Signal& signal,
                         const std::vector<Stretch>& stretches);

/// What is written into the row of a level or position where a value begins.
[[nodiscard]] std::string label_in(const solver::Trace& trace, const dsl::Signal& signal,
                                   const Stretch& stretch, bool unicode);

[[nodiscard]] Layout lay_out(const dsl::Model& model, const solver::Trace& trace,
                             const std::vector<std::uint32_t>& signals, std::size_t room, bool unicode);

}  // namespace detent::cli
