// The units that the language knows: one table for levels and one for times.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace detent::dsl {

/// Times are exact: picoseconds in 128 bits hold every duration that can be written.
__extension__ typedef __int128 Picoseconds;

[[nodiscard]] bool is_level_unit(std::string_view unit);
/// us, ms, s, min, h, tick, ticks.
[[nodiscard]] bool is_time_unit(std::string_view unit);

/// Length of one of the unit; nothing for a word that is no unit of time. `tick` is the length of a tick.
[[nodiscard]] std::optional<Picoseconds> unit_length(std::string_view unit, Picoseconds tick);

[[nodiscard]] std::vector<std::string> all_units();

/// "8 s", "250 ms", "0.4 us": the shortest exact way to say it.
[[nodiscard]] std::string duration_text(Picoseconds length);

}  // namespace detent::dsl
