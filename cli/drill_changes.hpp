// Small changes of a design, and whether a bench list tells them from the design.
#pragma once

#include <optional>
#include <vector>

#include "cli/drill_rounds.hpp"
#include "cli/drill_sheet.hpp"

namespace detent::cli {

/// Ticks on end in which two machines differ.
struct Difference {
  Value tick = 0;  ///< the first one
  Value ticks = 0;
};

/// Where the shown signals of the study's model and those of the same names of `other`, moved alike, differ.
[[nodiscard]] std::vector<Difference> differences(const DrillStudy& study, const dsl::Model& other,
                                                  const solver::Run& run);

/// How a round tells a changed design apart.
struct Told {
  DrilledChange::Fate fate = DrilledChange::Fate::recorded;  ///< or seen
  Value tick = 0;
};
[[nodiscard]] std::optional<Told> told_by(const DrillStudy& study, const dsl::Model& changed,
                                          const solver::Run& run, const SheetRound& sheet);

/// Lists all small changes, and takes the list on until each that can be told is told.
void drill_changes(DrillStudy& study, DrillRounds& rounds, const dsl::Compiled& compiled, CaseRunner& cases,
                   const solver::CaseOptions& options, const StudyProgress& progress);

}  // namespace detent::cli
