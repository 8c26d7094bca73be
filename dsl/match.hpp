// Which inputs and elements of two designs are the same thing, by their names.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "dsl/model.hpp"

namespace detent::dsl {

/// The first and the second of two designs, as index into arrays of two.
inline constexpr std::size_t side_a = 0;
inline constexpr std::size_t side_b = 1;  ///< see side_a

/// A signal of A and the signal of B that it is compared with, as indices into their Model::signals.
struct SignalPair {
  std::uint32_t a = 0;  ///< of A
  std::uint32_t b = 0;  ///< of B
};

/// What belongs together.
struct Match {
  std::vector<SignalPair> hands;     ///< inputs that both have, alike: moved together
  std::vector<SignalPair> computed;  ///< elements and outputs that both have, of comparable kinds
  /// Of one name, but not to be compared, and why: "is an input in A and computed in B".
  struct Unlike {
    SignalPair pair;     ///< the two
    std::string reason;  ///< in words
  };
  std::vector<Unlike> unlike;                       ///< see Unlike
  std::array<std::vector<std::uint32_t>, 2> alone;  ///< those that only one design has
};

/// Why two designs can't be compared.
struct MatchProblem {
  std::string message;  ///< what was seen
  std::string mend;     ///< what to do about it
};

/// Names of A and the names that the same things have in B, where they differ.
using Renames = std::vector<std::pair<std::string, std::string>>;

/// Matches by name. Inputs that are not alike (another kind, range, step, unit or other positions), outputs
/// that can't be compared, ticks of another length and names that are not there are a problem: comparing
/// would mean nothing.
[[nodiscard]] std::variant<Match, MatchProblem> match_signals(const Model& a, const Model& b,
                                                              const Renames& renames);

/// What the thing is called in B, by its name in A: also for "thrust received" where only thrust is renamed.
[[nodiscard]] std::string name_in_b(const std::string& name, const Renames& renames);

}  // namespace detent::dsl
