// The exit status of a check.
#include "cli/check_result.hpp"

#include <algorithm>

namespace detent::cli {

Status status_of(const CheckResult& result) {
  if (!result.report || result.report->no_run_of) return Status::input_wrong;
  const auto any = [&](solver::Outcome outcome) {
    return std::any_of(result.report->verdicts.begin(), result.report->verdicts.end(),
                       [&](const solver::Verdict& verdict) { return verdict.outcome == outcome; });
  };
  if (any(solver::Outcome::refuted)) return Status::refuted;
  if (any(solver::Outcome::undecided)) return Status::undecided;
  return Status::all_hold;
}

}  // namespace detent::cli
