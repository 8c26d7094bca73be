// What all reports for programs have in common. Private to them.
#pragma once

#include "cli/json_run.hpp"
#include "dsl/front.hpp"
#include "solver/verdict.hpp"

namespace detent::cli {

/// File, lines and columns; null where there is no place.
[[nodiscard]] Json json_place(const dsl::Sources& sources, const dsl::Place& place);

/// Every mistake and warning of the text.
[[nodiscard]] Json json_diagnostics(const dsl::Compiled& compiled);

[[nodiscard]] const char* outcome_word(solver::Outcome outcome);
[[nodiscard]] const char* limit_word(solver::Limit limit);

}  // namespace detent::cli
