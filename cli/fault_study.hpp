// Which claims of a design still hold with a fault in it: the whole study as a call, with a plain result.
#pragma once

#include <atomic>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "cli/shard/shard.hpp"
#include "cli/study.hpp"
#include "dsl/alter.hpp"
#include "dsl/design.hpp"
#include "dsl/model.hpp"
#include "solver/cases.hpp"

namespace detent::cli {

/// A design with one fault in it, or two, and what became of the claims.
struct FaultCase {
  std::vector<std::size_t> faults;  ///< indices into FaultStudy::faults
  solver::CaseAnswer answer;        ///< verdicts in the order of FaultStudy::claims
};

struct FaultStudy {
  std::vector<dsl::Alteration> faults;
  solver::CaseAnswer without;  ///< verdicts on all claims of the design as it is
  /// Indices of the claims that hold in the design as it is; only those are looked at with faults.
  std::vector<std::uint32_t> claims;
  std::vector<FaultCase> singles;
  std::vector<FaultCase> pairs;  ///< of faults that the design survives alone; only if asked for
  bool with_pairs = false;
  solver::CasesReport cost;  ///< of all, without answers
};

struct FaultWishes {
  std::vector<std::size_t> only = {};  ///< faults to look at; empty: all
  bool pairs = false;
  /// The cases that are looked at; of the single faults all are, where pairs are made of them.
  Shard shard = {};
};

/// The cases of a study, without answers: one for each of these faults, or for all `count` if there are none.
[[nodiscard]] std::vector<FaultCase> single_cases(std::size_t count, const std::vector<std::size_t>& only);
/// Every two faults of different elements that the design survives alone, as far as study.singles says. One
/// that is fatal alone tells nothing new in company.
[[nodiscard]] std::vector<FaultCase> pair_cases(const dsl::Model& model, const FaultStudy& study);

/// What a case means for the design's safety claims (those that are not of the form `possible`).
enum class Fate {
  survived,  ///< all are still proved
  fallen,    ///< at least one is refuted
  undecided,
  no_run,  ///< the assumptions rule this fault out: there is no run with it
};
[[nodiscard]] Fate fate_of(const dsl::Model& model, const FaultStudy& study, const FaultCase& one);

/// The model of the design with these faults (indices into `faults`).
[[nodiscard]] dsl::Model model_with(const dsl::Design& design, const dsl::Sources& sources,
                                    const std::vector<dsl::Alteration>& faults,
                                    const std::vector<std::size_t>& which);

/// Never throws for limits: what was not reached is left undecided. Throws solver::InternalDisagreement.
[[nodiscard]] FaultStudy study_faults(const dsl::Design& design, const dsl::Sources& sources,
                                      std::vector<dsl::Alteration> faults, const FaultWishes& wishes,
                                      const solver::CaseOptions& options, const StudyProgress& progress);

}  // namespace detent::cli
