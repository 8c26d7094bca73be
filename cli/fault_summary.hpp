// What a study of faults comes to.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "cli/fault_study.hpp"

namespace detent::cli {

/// "thrust stuck at 0 %", "thrust stuck at 0 % and guard stuck at run".
[[nodiscard]] std::string fault_words(const FaultStudy& study, const FaultCase& one);

/// What a study comes to, for safety claims.
struct FaultSummary {
  std::size_t survived = 0, fallen = 0, undecided = 0, ruled_out = 0;
  /// Safety claims in the order in which they fall: the most faults first, then the shortest run.
  struct Fallen {
    std::uint32_t claim = 0;
    std::size_t faults = 0;
    dsl::Value shortest = 0;  ///< ticks of the shortest run that breaks it
  };
  std::vector<Fallen> fallen_claims = {};
};
[[nodiscard]] FaultSummary summary_of(const dsl::Model& model, const FaultStudy& study,
                                      const std::vector<FaultCase>& cases);

}  // namespace detent::cli
