// The run that `detent check --evidence` and `--format json` write, read back.
#pragma once

#include <string_view>

#include "cli/player.hpp"
#include "cli/quantities.hpp"

namespace detent::cli {

/// A document with `ticks` and `inputs` as cli/check.schema.json lays down a run; all else in it follows from
/// those and is not looked at.
[[nodiscard]] Reading<HandRun> read_json_run(const dsl::Model& model, std::string_view text);

}  // namespace detent::cli
