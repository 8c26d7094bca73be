// Whole numbers made of gates: an unsigned row of bits, lowest first.
// What number a row stands for is the user's affair (solver/unroll.cpp counts from a node's lowest value).
#pragma once

#include <cstdint>
#include <vector>

#include "solver/gates.hpp"

namespace detent::solver {

using Bits = std::vector<Literal>;

/// How many bits hold every number from 0 to `highest`.
[[nodiscard]] std::size_t width_of(std::uint64_t highest);

/// How far it is from `low` up to `high`, modulo 2^64.
[[nodiscard]] inline std::uint64_t distance(std::int64_t low, std::int64_t high) {
  return static_cast<std::uint64_t>(high) - static_cast<std::uint64_t>(low);
}

[[nodiscard]] Bits constant_bits(std::uint64_t number, std::size_t width);
/// Padded with zeros or cut off at the top.
[[nodiscard]] Bits resized(Bits bits, std::size_t width);

/// a + b, and factor * a, modulo 2^width.
[[nodiscard]] Bits sum(Gates& gates, const Bits& a, const Bits& b, std::size_t width);
[[nodiscard]] Bits product(Gates& gates, std::uint64_t factor, const Bits& a, std::size_t width);
[[nodiscard]] Bits choice(Gates& gates, Literal condition, const Bits& a, const Bits& b);

[[nodiscard]] Literal equal_bits(Gates& gates, const Bits& a, const Bits& b);
[[nodiscard]] Literal at_most_bits(Gates& gates, const Bits& a, const Bits& b);

}  // namespace detent::solver
