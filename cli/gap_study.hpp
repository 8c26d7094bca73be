// What the claims of a design do not watch: the whole study as a call, with a plain result.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "cli/study.hpp"
#include "dsl/alter.hpp"
#include "dsl/design.hpp"
#include "dsl/model.hpp"
#include "solver/cases.hpp"

namespace detent::cli {

/// A small change of the design, and who would notice it.
struct Slip {
  enum class Fate {
    noticed,    ///< a claim that holds of the design no longer holds, or the assumptions leave no run
    gap,        ///< every claim still holds, and yet an output does something else in some run
    no_effect,  ///< every claim still holds, and no output ever differs from the design's
    undecided,
  };
  dsl::Alteration what;
  Fate fate = Fate::undecided;
  std::vector<std::uint32_t> noticed_by = {};  ///< claims
  std::vector<std::uint32_t> open = {};        ///< claims of which it is not known
};

/// An `assume` or `at power_up`, and whether the claims need it.
struct AssumptionFinding {
  enum class Fate { needed, needless, undecided };
  std::string name;
  dsl::Place place;
  Fate fate = Fate::undecided;
};

/// A `possible` claim, and whether it still holds where every hand begins at rest.
struct PowerUpFinding {
  enum class Fate { holds, only_oddly, undecided };
  std::uint32_t claim = 0;
  Fate fate = Fate::undecided;
};

struct GapStudy {
  solver::CaseAnswer without;         ///< verdicts on all claims of the design as it is
  std::vector<std::uint32_t> claims;  ///< those that hold; all that follows speaks of them
  std::vector<Slip> slips;
  /// Claims that add nothing the others do not notice: each slip that such a claim notices is noticed by
  /// another one too. Each is so by itself: where two say the same, both are listed, and one may go.
  std::vector<std::uint32_t> add_nothing;
  std::vector<AssumptionFinding> assumptions;
  std::vector<PowerUpFinding> power_up;
  /// False where the design's own words on power-up leave no run from rest; then `power_up` is empty.
  bool rest_is_possible = true;
  solver::CasesReport cost;  ///< of all, without answers
};

/// Never throws for limits: what was not reached is left undecided. Throws solver::InternalDisagreement.
/// CaseOptions::wants_runs is taken as false.
[[nodiscard]] GapStudy study_gaps(const dsl::Design& design, const dsl::Sources& sources,
                                  solver::CaseOptions options, const StudyProgress& progress);

}  // namespace detent::cli
