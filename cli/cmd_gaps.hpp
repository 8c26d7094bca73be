// `detent gaps FILE`: what the claims of a design do not watch.
#pragma once

#include <optional>

#include "cli/gap_study.hpp"
#include "cli/result.hpp"
#include "cli/study_options.hpp"
#include "dsl/front.hpp"

namespace detent::cli {

[[nodiscard]] CommandResult gaps(const StudyOptions& options);

/// The study alone, of a text that is free of errors.
[[nodiscard]] GapStudy studied_gaps(const dsl::Compiled& compiled, const StudySettings& settings);

/// A message where the text, free of errors, claims nothing.
[[nodiscard]] std::optional<CommandResult> try_gaps(const dsl::Compiled& compiled);

}  // namespace detent::cli
