// Which run is meant, where a form holds one.
#pragma once

#include <variant>

#include "cli/check_result.hpp"
#include "cli/options.hpp"
#include "cli/result.hpp"
#include "solver/verdict.hpp"

namespace detent::cli {

/// The one claim of a check that has a run to show: of those that are refuted, or else of those that are
/// possible. A message where there is none, or more than one. `result` has verdicts and outlives the answer.
[[nodiscard]] std::variant<const solver::Verdict*, CommandResult> run_to_draw(const CheckResult& result);

/// The run in the file that --run names; a message where it can't be read, or does what the design takes for
/// granted never to happen. `compiled` has a model.
[[nodiscard]] std::variant<solver::Run, CommandResult> run_of_file(const CheckOptions& options,
                                                                   const dsl::Compiled& compiled);

}  // namespace detent::cli
