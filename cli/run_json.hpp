// The run that `detent check --evidence` and `--format json` write, read back.
#pragma once

#include <string_view>

#include "cli/player.hpp"
#include "cli/quantities.hpp"

namespace detent::cli {

/// Microseconds that a tick of the design takes.
inline constexpr const char* tick_member = "tick_us";

/// Whether it is a run as JSON that does not say for which tick it was made.
[[nodiscard]] bool lacks_tick(std::string_view text);
inline constexpr const char* no_tick_words =
    "The run does not say for which tick it was made; it is taken to be that of the design.";

/// A document with `ticks` and `inputs` as cli/check.schema.json lays down a run; all else in it follows from
/// those and is not looked at.
[[nodiscard]] Reading<HandRun> read_json_run(const dsl::Model& model, std::string_view text);

}  // namespace detent::cli
