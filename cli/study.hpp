// What the studies of altered designs share: lowering a design that is known to be good, and asking for many
// of them with one memory of what is decided.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <vector>

#include "dsl/design.hpp"
#include "dsl/model.hpp"
#include "dsl/source.hpp"
#include "solver/cases.hpp"
#include "solver/memo.hpp"

namespace detent::cli {

/// Called with how many altered designs are done, and how many there are in this round.
using StudyProgress = std::function<void(std::size_t done, std::size_t all)>;

/// The model of a checked design, altered or not. Throws solver::InternalDisagreement where an alteration has
/// made a design that can't be lowered.
[[nodiscard]] dsl::Model lowered(const dsl::Design& design, const dsl::Sources& sources);

/// The claims that hold: proved, or shown possible.
[[nodiscard]] std::vector<std::uint32_t> holding(const solver::CaseAnswer& answer);

class CaseRunner {
 public:
  /// What it costs is added to `cost`. All that is referred to must outlive it.
  CaseRunner(const solver::CaseOptions& options, const StudyProgress& progress, solver::CasesReport& cost)
      : options_(options), progress_(progress), cost_(cost) {}

  std::vector<solver::CaseAnswer> ask(std::size_t count,
                                      const std::function<solver::Case(std::size_t)>& make);
  /// All claims of one model.
  solver::CaseAnswer ask_one(const dsl::Model& model);

 private:
  const solver::CaseOptions& options_;
  const StudyProgress& progress_;
  solver::CasesReport& cost_;
  solver::Memo memo_;
};

}  // namespace detent::cli
