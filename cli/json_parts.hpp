// What the reports for programs have in common. Private to them.
#pragma once

#include "cli/json_run.hpp"
#include "dsl/front.hpp"
#include "solver/verdict.hpp"

namespace detent::cli {

/// null where there is no place.
[[nodiscard]] Json json_place(const dsl::Sources& sources, const dsl::Place& place);

/// All diagnostics of a text, in order.
[[nodiscard]] Json json_diagnostics(const dsl::Compiled& compiled);

[[nodiscard]] const char* outcome_word(solver::Outcome outcome);
[[nodiscard]] const char* limit_word(solver::Limit limit);

[[nodiscard]] Json json_statistics(const solver::Statistics& statistics);

}  // namespace detent::cli
