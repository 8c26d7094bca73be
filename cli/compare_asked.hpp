// What the command line of a comparison says, before there is anything to compare.
#pragma once

#include <optional>
#include <string>

#include "cli/options.hpp"
#include "cli/result.hpp"
#include "dsl/match.hpp"

namespace detent::cli {

/// Reads every --match into `renames`, or answers with a message.
[[nodiscard]] std::optional<CommandResult> read_matches(const CompareOptions& options, dsl::Renames& renames);

/// Whether --goal, --lock and --rest are one condition each: looked at by themselves, before they are put
/// into a claim.
[[nodiscard]] std::optional<CommandResult> check_conditions(const CompareOptions& options);

[[nodiscard]] CommandResult wrong_condition(const char* option, const std::string& problem);

}  // namespace detent::cli
