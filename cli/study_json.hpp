// The studies of faults and gaps for programs; laid down in faults.schema.json and gaps.schema.json.
#pragma once

#include <string>

#include "cli/fault_study.hpp"
#include "cli/gap_study.hpp"
#include "cli/result.hpp"
#include "dsl/front.hpp"

namespace detent::cli {

/// `study` is null where the text has errors.
[[nodiscard]] std::string faults_json(const std::string& file, const dsl::Compiled& compiled,
                                      const FaultStudy* study, Status status);
[[nodiscard]] std::string gaps_json(const std::string& file, const dsl::Compiled& compiled,
                                    const GapStudy* study, Status status);

}  // namespace detent::cli
