// One part of a sweep that several machines share.
//
// How it is split hangs on the task alone, not on the machine, the time or the threads, so that shards can be
// made anywhere, in any order, and again: cases that are dear by chance are dealt out in turn, and values of
// tunables, which are proved together, go in stretches.
#pragma once

#include <cstddef>
#include <string>
#include <utility>

#include "cli/quantities.hpp"

namespace detent::cli {

inline constexpr std::size_t most_shards = 100'000;

/// Number `number` of `of`, counted from 1. The whole is 1 of 1.
struct Shard {
  std::size_t number = 1;
  std::size_t of = 1;

  /// Whether the case with this index, counted from 0, is dealt out to this shard.
  [[nodiscard]] bool has(std::size_t index) const { return index % of == number - 1; }
  /// The stretch of `count` things in a row that is this shard's: [first, second). May be empty.
  [[nodiscard]] std::pair<std::size_t, std::size_t> stretch(std::size_t count) const;
  /// "3/8"
  [[nodiscard]] std::string text() const;
  friend bool operator==(const Shard&, const Shard&) = default;
};

/// "3/8".
[[nodiscard]] Reading<Shard> read_shard(const std::string& text);

}  // namespace detent::cli
