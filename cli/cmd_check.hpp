// `detent check`: every claim of a design, over every run up to a bound.
#pragma once

#include <optional>
#include <variant>

#include "cli/check_result.hpp"
#include "cli/options.hpp"
#include "cli/result.hpp"
#include "cli/settings.hpp"

namespace detent::cli {

[[nodiscard]] CommandResult check(const CheckOptions& options);

/// All of it but reading the text and the page, for the commands that make another page of it: asks, and
/// writes evidence where that is wanted. Without a report where the text has errors; a message where the
/// options do not fit.
[[nodiscard]] std::variant<CheckResult, CommandResult> checked(const CheckOptions& options,
                                                               dsl::Compiled design,
                                                               const Settings& settings);

/// How far is to be looked at a design, into a result that has its text; a message where the options do not
/// fit it.
[[nodiscard]] std::optional<CommandResult> plan_check(const CheckOptions& options, const Settings& settings,
                                                      CheckResult& result);

/// The page of one design, or its JSON.
[[nodiscard]] CommandResult check_answer(const CheckOptions& options, const Settings& settings,
                                         const CheckResult& result);

/// What is told in the place of verdicts: the text's errors, or that the assumptions contradict each other.
[[nodiscard]] std::optional<CommandResult> nothing_to_report(const CheckResult& result,
                                                             const Settings& settings);

}  // namespace detent::cli
