// The whole check for programs. The form is laid down in check.schema.json, beside this file.
#pragma once

#include <string>

#include "cli/check_result.hpp"
#include "cli/json_run.hpp"

namespace detent::cli {

/// One JSON document, indented, with a line end. Also for a text with errors: then without verdicts.
[[nodiscard]] std::string json_text(const CheckResult& result);

// ---- Parts of it, for the reports of other commands ----

[[nodiscard]] Json json_signals(const dsl::Model& model, const dsl::Sources& sources);
[[nodiscard]] Json json_verdict(const dsl::Model& model, const dsl::Sources& sources,
                                const solver::Verdict& verdict);
/// For a report with no_run_of.
void add_contradiction(Json& json, const dsl::Compiled& compiled, const solver::Report& report);

}  // namespace detent::cli
