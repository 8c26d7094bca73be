// A run as a SARIF code flow. Private to the SARIF log.
#pragma once

#include "cli/json_run.hpp"
#include "dsl/front.hpp"
#include "solver/verdict.hpp"

namespace detent::cli {

/// One thread, whose locations are the moments that the story tells, each with its sentences and the values
/// that the diagram shows. The last stands at the claim, every other where what moves first in it is
/// declared.
[[nodiscard]] Json sarif_flow(const dsl::Compiled& compiled, const dsl::Claim& claim, const solver::Run& run);

}  // namespace detent::cli
