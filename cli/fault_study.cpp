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
    study_.singles = single_cases(study_.faults.size(), wishes_.only);
    answer(study_.singles, wishes_.pairs ? Shard{} : wishes_.shard);
    if (wishes_.pairs) {
      study_.pairs = pair_cases(whole, study_);
      std::erase_if(study_.pairs, [&](const FaultCase& pair) { return !wishes_.shard.has(number_of(pair)); });
      answer(study_.pairs, {});
    }
  }

 private:
  void answer(std::vector<FaultCase>& cases, const Shard& shard) {
    if (study_.claims.empty()) return;
    std::vector<std::size_t> mine;
    for (std::size_t index = 0; index < cases.size(); ++index) {
      if (shard.has(index)) mine.push_back(index);
    }
    const auto make = [&](std::size_t at) {
      return solver::Case{model_with(design_, sources_, study_.faults, cases[mine[at]].faults),
                          study_.claims};
    };
    std::vector<solver::CaseAnswer> answers = runner_.ask(mine.size(), make);
    for (std::size_t at = 0; at < mine.size(); ++at) {
      cases[mine[at]].answer = std::move(answers[at]);
    }
  }

  /// Pairs are counted over all faults and not over those that are survived: a shard that a limit stopped
  /// from deciding one fault so agrees with the others whose the other pairs are.
  std::size_t number_of(const FaultCase& pair) const {
    const std::size_t first = pair.faults[0], second = pair.faults[1];
    return second * (second - 1) / 2 + first;
  }

  const dsl::Design& design_;
  const dsl::Sources& sources_;
  const FaultWishes& wishes_;
  CaseRunner runner_;
  FaultStudy& study_;
};

}  // namespace

std::vector<FaultCase> single_cases(std::size_t count, const std::vector<std::size_t>& only) {
  std::vector<std::size_t> chosen = only;
  if (chosen.empty()) {
    chosen.resize(count);
    std::iota(chosen.begin(), chosen.end(), std::size_t{0});
  }
  std::vector<FaultCase> cases;
  for (const std::size_t fault : chosen) cases.push_back({{fault}, {}});
  return cases;
}

std::vector<FaultCase> pair_cases(const dsl::Model& model, const FaultStudy& study) {
  std::vector<std::size_t> survived;
  for (const FaultCase& one : study.singles) {
    if (fate_of(model, study, one) == Fate::survived) survived.push_back(one.faults.front());
  }
  std::vector<FaultCase> cases;
  for (std::size_t first = 0; first < survived.size(); ++first) {
    for (std::size_t second = first + 1; second < survived.size(); ++second) {
      const bool same = study.faults[survived[first]].element == study.faults[survived[second]].element;
      if (!same) cases.push_back({{survived[first], survived[second]}, {}});
    }
  }
  return cases;
}

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
