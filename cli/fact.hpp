// A simple piece of a claim read as a fact about one signal: `live`, `not live`, `rises(live)`,
// `falls(radio is lost)`, `guard is safe`, `jet == -100 %`. Such a piece can be said in words.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "dsl/model.hpp"
#include "solver/run.hpp"

namespace detent::cli {

using dsl::Value;

struct Fact {
  std::uint32_t signal = 0;   ///< the one to speak of (see told_signal)
  bool edge = false;          ///< that it comes true in this tick, by the signal going to `target`
  Value target = 0;           ///< edges only
  std::string being = {};     ///< "on", "at safe", "lost", "at most 0"
  std::string opposite = {};  ///< where `being` cannot be denied in plain words: "more than 0"
  /// The signal on the other side of a comparison.
  std::optional<std::uint32_t> other = {};
};

/// Nothing where the piece is more than one simple fact.
[[nodiscard]] std::optional<Fact> read_fact(const dsl::Model& model, const solver::Trace& trace,
                                            const dsl::Piece& piece);

}  // namespace detent::cli
