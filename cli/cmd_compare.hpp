// `detent compare`: two designs side by side.
#pragma once

#include <array>
#include <optional>
#include <variant>

#include "cli/compare_result.hpp"
#include "cli/options.hpp"
#include "cli/result.hpp"
#include "cli/settings.hpp"

namespace detent::cli {

[[nodiscard]] CommandResult compare(const CompareOptions& options);

/// All of it but the page, for two texts that are free of errors. A message where the options or the two
/// designs do not fit together.
[[nodiscard]] std::variant<CompareResult, CommandResult> compared(const CompareOptions& options,
                                                                  std::array<dsl::Compiled, 2> designs,
                                                                  const Settings& settings);

/// What is told where the assumptions leave no run to compare.
[[nodiscard]] std::optional<CommandResult> nothing_to_compare(const CompareResult& result);

}  // namespace detent::cli
