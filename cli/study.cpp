#include "cli/study.hpp"

#include <numeric>
#include <utility>

#include "dsl/lower.hpp"

namespace detent::cli {

dsl::Model lowered(const dsl::Design& design, const dsl::Sources& sources) {
  dsl::Diagnostics diagnostics;
  dsl::Model model = dsl::lower(design, sources, diagnostics);
  if (dsl::has_errors(diagnostics)) {
    throw solver::InternalDisagreement{"an altered design has a number without bound"};
  }
  return model;
}

std::vector<std::uint32_t> holding(const solver::CaseAnswer& answer) {
  std::vector<std::uint32_t> claims;
  for (const solver::Verdict& verdict : answer.verdicts) {
    const bool holds =
        verdict.outcome == solver::Outcome::proved || verdict.outcome == solver::Outcome::shown;
    if (holds) claims.push_back(verdict.claim);
  }
  return claims;
}

std::vector<solver::CaseAnswer> CaseRunner::ask(std::size_t count,
                                                const std::function<solver::Case(std::size_t)>& make) {
  solver::CaseOptions options = options_;
  options.progress = [this, count](std::size_t done) {
    if (progress_) progress_(done, count);
  };
  solver::CasesReport report = solver::check_cases(count, make, options, memo_);
  cost_.asked += report.asked;
  cost_.known += report.known;
  cost_.by_chance += report.by_chance;
  cost_.seconds += report.seconds;
  return std::move(report.answers);
}

solver::CaseAnswer CaseRunner::ask_one(const dsl::Model& model) {
  std::vector<std::uint32_t> claims(model.claims.size());
  std::iota(claims.begin(), claims.end(), 0U);
  if (claims.empty()) return {.looked_at = true};
  return ask(1, [&](std::size_t) { return solver::Case{model, claims}; }).front();
}

}  // namespace detent::cli
