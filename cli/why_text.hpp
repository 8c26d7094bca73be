// What led to the end of a run, told to a person: the end first, then its causes in order of time.
#pragma once

#include "cli/page.hpp"
#include "dsl/model.hpp"
#include "solver/run.hpp"

namespace detent::cli {

/// For a run in whose last tick the claim's watch is true.
[[nodiscard]] Page run_causes_page(const dsl::Model& model, const dsl::Claim& claim, const solver::Run& run,
                                   const Terminal& terminal);

}  // namespace detent::cli
