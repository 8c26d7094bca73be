// `detent faults FILE`: which claims still hold with a fault in the design.
#pragma once

#include <optional>
#include <variant>

#include "cli/fault_study.hpp"
#include "cli/result.hpp"
#include "cli/study_options.hpp"
#include "dsl/front.hpp"

namespace detent::cli {

[[nodiscard]] CommandResult faults(const FaultsOptions& options);

/// What is to be looked at.
struct FaultPlan {
  std::vector<dsl::Alteration> faults;
  FaultWishes wishes;
};

/// Of a text that is free of errors. A message where the options do not fit, or nothing is claimed.
[[nodiscard]] std::variant<FaultPlan, CommandResult> planned_faults(const FaultsOptions& options,
                                                                    const dsl::Compiled& compiled);

/// All of it but the page, of a text that is free of errors. A message where the options do not fit.
[[nodiscard]] std::variant<FaultStudy, CommandResult> studied_faults(const FaultsOptions& options,
                                                                     const dsl::Compiled& compiled,
                                                                     const StudySettings& settings,
                                                                     const Shard& shard = {});

/// The page of a whole study, or its JSON.
[[nodiscard]] CommandResult faults_answer(const FaultsOptions& options, const dsl::Compiled& compiled,
                                          const FaultStudy& result, const StudySettings& settings);

/// A message where the text, free of errors, claims nothing.
[[nodiscard]] std::optional<CommandResult> try_faults(const dsl::Compiled& compiled);

}  // namespace detent::cli
