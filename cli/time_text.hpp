// Moments and stretches of time as people write them: "0.5 s", "tick 12", "3 ticks", "0 ms".
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "cli/quantities.hpp"

namespace detent::cli {

/// The most ticks that a run by hand may have.
inline constexpr dsl::Value longest_run = 50'000'000;

/// What stands for a time at the front of the text, "0.5 s", "12 ticks" or "tick 12"; the rest is left in
/// `text`. Nothing, and `text` as it was, where none stands there; a number without a unit is one to complain
/// of.
[[nodiscard]] std::optional<std::string_view> take_time(std::string_view& text);

/// Ticks, 0 to longest_run: "tick 12", "12 ticks", or a time that is a whole number of ticks.
[[nodiscard]] Reading<dsl::Value> read_moment(std::string_view text, std::int64_t tick_us);

/// A stretch of time in nanoseconds, 0 to a year: "40 ms", "0.1 ms", "2 ticks".
[[nodiscard]] Reading<std::int64_t> read_nanoseconds(std::string_view text, std::int64_t tick_us);

/// The length of a unit of time in nanoseconds; nothing for a word that is none. "tick" and "ticks" too.
[[nodiscard]] std::optional<std::int64_t> unit_nanoseconds(std::string_view unit, std::int64_t tick_us);

/// Nanoseconds in seconds, exact: "0.0405 s".
[[nodiscard]] std::string nanoseconds_words(std::int64_t ns);

}  // namespace detent::cli
