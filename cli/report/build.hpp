// From verdicts and studies to what a page shows. All words are those of the pages of the terminal.
#pragma once

#include <atomic>

#include "cli/check_result.hpp"
#include "cli/compare_result.hpp"
#include "cli/fault_study.hpp"
#include "cli/gap_study.hpp"
#include "cli/report/page_model.hpp"
#include "cli/tune_study.hpp"

namespace detent::cli::report {

struct BuildWishes {
  bool all_signals = false;                   ///< rows also for signals that have no bearing on the claim
  const std::atomic<bool>* cancel = nullptr;  ///< once it is set, no more is asked of the solver
};

/// The page of a check that has a report with verdicts; without sections.
[[nodiscard]] ReportPage page_of(const CheckResult& result, const BuildWishes& wishes);

[[nodiscard]] Section section_of(const CompareResult& result, const BuildWishes& wishes);
[[nodiscard]] Section section_of(const TuneResult& result);
/// `allowed`: how long each claim could take, in words.
[[nodiscard]] Section section_of(const dsl::Compiled& compiled, const FaultStudy& study,
                                 const std::string& allowed);
[[nodiscard]] Section section_of(const dsl::Compiled& compiled, const GapStudy& study,
                                 const std::string& allowed);

}  // namespace detent::cli::report
