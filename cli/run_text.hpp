// Runs as files: our own short form, and the JSON that `detent check --evidence` writes (cli/formats.md).
#pragma once

#include <string>
#include <string_view>

#include "cli/player.hpp"
#include "cli/quantities.hpp"
#include "dsl/model.hpp"

namespace detent::cli {

/// Either form; a text that begins with { is JSON. A problem begins with its place: "line 3: …". That no
/// assumption is broken is not looked at.
[[nodiscard]] Reading<HandRun> read_run(const dsl::Model& model, std::string_view text);

/// The run in our own form, which read_run() reads back as the same run.
[[nodiscard]] std::string run_text(const dsl::Model& model, const HandRun& run);

}  // namespace detent::cli
