#include "cli/fault_study.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

#include "dsl/twins.hpp"

namespace detent::cli {
namespace {

class Study {
 public:
  Study(const dsl::Design& design, const dsl::Sources& sources, const FaultWishes& wishes,
        const solver::CaseOptions& options, const StudyProgress& progress, FaultStudy& study)
      : design_(design),
        sources_(sources),
        wishes_(wishes),
        runner_(options, progress, study.cost),
        study_(study) {}

  void run() {
    const dsl::Model whole = lowered(design_, sources_);
    study_.without = runner_.ask_one(whole);
    study_.claims = holding(study_.without);
    if (study_.without.no_run_of) return;
    study_.with_pairs = wishes_.pairs;
    std::vector<std::size_t> chosen = wishes_.only;
    if (chosen.empty()) {
      chosen.resize(study_.faults.size());
      std::iota(chosen.begin(), chosen.end(), std::size_t{0});
    }
    for (const std::size_t fault : chosen) {
      study_.singles.push_back({{fault}, {}});
    }
    answer(study_.singles);
    if (wishes_.pairs) {
      study_.pairs = pairs(whole);
      answer(study_.pairs);
    }
  }

 private:
  void answer(std::vector<FaultCase>& cases) {
    if (study_.claims.empty()) return;
    const auto make = [&](std::size_t index) {
      return solver::Case{model_with(design_, sources_, study_.faults, cases[index].faults), study_.claims};
    };
    std::vector<solver::CaseAnswer> answers = runner_.ask(cases.size(), make);
    for (std::size_t index = 0; index < cases.size(); ++index) {
      cases[index].answer = std::move(answers[index]);
    }
  }

  /// A fault that is fatal alone tells nothing new in company.
  std::vector<FaultCase> pairs(const dsl::Model& whole) const {
    std::vector<std::size_t> survived;
    for (const FaultCase& one : study_.singles) {
      if (fate_of(whole, study_, one) == Fate::survived) survived.push_back(one.faults.front());
    }
    std::vector<FaultCase> cases;
    for (std::size_t first = 0; first < survived.size(); ++first) {
      for (std::size_t second = first + 1; second < survived.size(); ++second) {
        const bool same = study_.faults[survived[first]].element == study_.faults[survived[second]].element;
        if (!same) cases.push_back({{survived[first], survived[second]}, {}});
      }
    }
    return cases;
  }

  const dsl::Design& design_;
  const dsl::Sources& sources_;
  const FaultWishes& wishes_;
  CaseRunner runner_;
  FaultStudy& study_;
};

}  // namespace

Fate fate_of(const dsl::Model& model, const FaultStudy& study, const FaultCase& one) {
  if (one.answer.no_run_of) return Fate::no_run;
  Fate fate = one.answer.looked_at ? Fate::survived : Fate::undecided;
  for (const solver::Verdict& verdict : one.answer.verdicts) {
    if (model.claims[verdict.claim].possible) continue;
    if (verdict.outcome == solver::Outcome::refuted) return Fate::fallen;
    if (verdict.outcome == solver::Outcome::undecided) fate = Fate::undecided;
  }
  return study.claims.empty() ? Fate::undecided : fate;
}

dsl::Model model_with(const dsl::Design& design, const dsl::Sources& sources,
                      const std::vector<dsl::Alteration>& faults, const std::vector<std::size_t>& which) {
  std::vector<dsl::Alteration> chosen;
  for (const std::size_t index : which) chosen.push_back(faults[index]);
  return lowered(dsl::with_faults(design, chosen), sources);
}

FaultStudy study_faults(const dsl::Design& design, const dsl::Sources& sources,
                        std::vector<dsl::Alteration> faults, const FaultWishes& wishes,
                        const solver::CaseOptions& options, const StudyProgress& progress) {
  FaultStudy study;
  study.faults = std::move(faults);
  Study(design, sources, wishes, options, progress, study).run();
  return study;
}

}  // namespace detent::cli
