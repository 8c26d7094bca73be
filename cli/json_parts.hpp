// What the reports for programs have in common. Private to them.
#pragma once

#include <string>

#include "cli/json_run.hpp"
#include "cli/result.hpp"
#include "dsl/front.hpp"
#include "solver/verdict.hpp"

namespace detent::cli {

/// What every report begins with: versions and the exit status.
[[nodiscard]] Json json_head(Status status);

/// The same for a report about one design: also its file, its diagnostics and, if it has a model, title and
/// tick.
[[nodiscard]] Json json_head(Status status, const std::string& file, const dsl::Compiled& compiled);

/// As it is printed; bytes that are no UTF-8 are replaced.
[[nodiscard]] std::string json_print(const Json& json);

/// null where there is no place.
[[nodiscard]] Json json_place(const dsl::Sources& sources, const dsl::Place& place);

/// All diagnostics of a text, in order.
[[nodiscard]] Json json_diagnostics(const dsl::Compiled& compiled);

[[nodiscard]] const char* outcome_word(solver::Outcome outcome);
[[nodiscard]] const char* limit_word(solver::Limit limit);

[[nodiscard]] Json json_statistics(const solver::Statistics& statistics);

}  // namespace detent::cli
