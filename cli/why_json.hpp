// The reasons for a verdict, for programs. The form is laid down in why.schema.json, beside this file.
#pragma once

#include <optional>
#include <string>

#include "cli/result.hpp"
#include "dsl/front.hpp"
#include "solver/verdict.hpp"

namespace detent::cli {

[[nodiscard]] Status status_of_verdict(const solver::Verdict& verdict);

/// One JSON document. `report` is about one claim; absent where the text has errors.
[[nodiscard]] std::string why_json(const std::string& file, const dsl::Compiled& compiled,
                                   const std::optional<solver::Report>& report);

}  // namespace detent::cli
