// The study of faults as a page: a table of faults and claims, runs where they are wanted, and what it comes
// to.
#pragma once

#include <string>
#include <vector>

#include "cli/fault_study.hpp"
#include "cli/page.hpp"
#include "cli/terminal.hpp"
#include "dsl/front.hpp"

namespace detent::cli {

struct FaultsPageWishes {
  bool runs = false;         ///< also show the run of every claim that falls
  std::string allowed = {};  ///< how long each claim could take, in words
};

[[nodiscard]] Page faults_page(const dsl::Compiled& compiled, const FaultStudy& study,
                               const FaultsPageWishes& wishes, const Terminal& terminal);

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
