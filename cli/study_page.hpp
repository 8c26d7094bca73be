// What both studies say where there is nothing to study.
#pragma once

#include <string>

#include "cli/result.hpp"
#include "cli/study_options.hpp"
#include "dsl/front.hpp"
#include "solver/verdict.hpp"

namespace detent::cli {

/// For a text with errors: its messages, or `json` where that is wanted.
[[nodiscard]] CommandResult no_study(const dsl::Compiled& compiled, const StudySettings& settings,
                                     std::string json);

/// For a design without claims; `so`: what follows from it.
[[nodiscard]] CommandResult nothing_claimed(const std::string& so);

/// For assumptions that contradict each other, so that no run has this many ticks: which ones they are.
[[nodiscard]] CommandResult contradiction(const dsl::Compiled& compiled, dsl::Value no_run_of,
                                          const StudySettings& settings);

/// The same, as the engine has found it: with `report.no_run_of`.
[[nodiscard]] CommandResult contradiction(const dsl::Compiled& compiled, const solver::Report& report,
                                          const TerminalWishes& wishes);

/// "; up to 20 s for each claim of each".
[[nodiscard]] std::string allowed_words(const StudySettings& settings);

}  // namespace detent::cli
