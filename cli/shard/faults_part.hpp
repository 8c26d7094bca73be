// A shard's part of a study of faults, and the study from all parts.
#pragma once

#include <vector>

#include "cli/fault_study.hpp"
#include "cli/shard/shard.hpp"
#include "cli/shard/strict_json.hpp"
#include "dsl/front.hpp"

namespace detent::cli {

/// What this shard has looked at: the design as it is, and its own cases.
[[nodiscard]] Json faults_part(const dsl::Compiled& compiled, const FaultStudy& study, const Shard& shard);

/// Whether no limit left anything open in this shard's part.
[[nodiscard]] bool all_decided(const FaultStudy& study, const Shard& shard);

/// A part, and the shard that it is of.
struct PartOf {
  Shard shard;
  Strict json;
};

/// The study as one run would have found it. `planned` has faults and the cases of single faults without
/// answers. What a shard left open stays open. Throws Misfit.
[[nodiscard]] FaultStudy joined_faults(const dsl::Compiled& compiled, FaultStudy planned,
                                       const std::vector<PartOf>& parts);

}  // namespace detent::cli
