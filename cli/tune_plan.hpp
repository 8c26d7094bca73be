// Which tunables are looked at, together or each by itself, and how fine.
#pragma once

#include <variant>
#include <vector>

#include "cli/options.hpp"
#include "cli/result.hpp"
#include "cli/tune_study.hpp"
#include "dsl/front.hpp"

namespace detent::cli {

/// The axes of one study, one tunable or two.
using Axes = std::vector<TuneAxis>;

/// The studies that are asked for, of a text that is free of errors. A message where the options do not fit,
/// or there is nothing to tune.
[[nodiscard]] std::variant<std::vector<Axes>, CommandResult> plan_tune(const TuneOptions& options,
                                                                       const dsl::Compiled& compiled);

}  // namespace detent::cli
