// The rounds of the study. What a slip does to the claims is asked first, and only where no claim notices it
// whether it does anything at all.
#include "cli/gap_study.hpp"

#include <algorithm>
#include <map>
#include <utility>

#include "dsl/loosen.hpp"
#include "dsl/slip_list.hpp"
#include "dsl/twins.hpp"
#include "solver/rest.hpp"

namespace detent::cli {
namespace {

using solver::Outcome;

bool holds(const solver::Verdict& verdict) {
  return verdict.outcome == Outcome::proved || verdict.outcome == Outcome::shown;
}

class Study {
 public:
  Study(const dsl::Design& design, const dsl::Sources& sources, const solver::CaseOptions& options,
        const StudyProgress& progress)
      : design_(design), sources_(sources), runner_(options, progress, study_.cost) {}

  GapStudy run() {
    model_ = lowered(design_, sources_);
    study_.without = runner_.ask_one(model_);
    study_.claims = holding(study_.without);
    for (const std::uint32_t claim : study_.claims) {
      (model_.claims[claim].possible ? possible_ : safety_).push_back(claim);
    }
    if (!study_.without.no_run_of) {
      ask_slips();
      ask_effects();
      find_claims_that_add_nothing();
      drop_assumptions();
      begin_at_rest();
    }
    return std::move(study_);
  }

 private:
  // ---- slips ----
  void ask_slips() {
    std::vector<dsl::Alteration> list = dsl::list_slips(design_, sources_);
    std::vector<solver::CaseAnswer> answers(list.size());
    if (!study_.claims.empty()) {
      answers = runner_.ask(list.size(), [&](std::size_t index) {
        return solver::Case{lowered(dsl::altered(design_, list[index]), sources_), study_.claims};
      });
    }
    for (std::size_t index = 0; index < list.size(); ++index) {
      study_.slips.push_back(judged(std::move(list[index]), answers[index]));
    }
  }

  [[nodiscard]] Slip judged(dsl::Alteration what, const solver::CaseAnswer& answer) const {
    Slip slip{.what = std::move(what)};
    if (!answer.looked_at && !study_.claims.empty()) {
      slip.open = study_.claims;
      return slip;
    }
    for (const solver::Verdict& verdict : answer.verdicts) {
      const bool open = verdict.outcome == Outcome::undecided;
      if (!holds(verdict)) (open ? slip.open : slip.noticed_by).push_back(verdict.claim);
    }
    if (!slip.noticed_by.empty() || answer.no_run_of) {
      slip.fate = Slip::Fate::noticed;
    } else {
      slip.fate = slip.open.empty() ? Slip::Fate::gap : Slip::Fate::undecided;
    }
    return slip;
  }

  // ---- whether it does anything ----
  void ask_effects() {
    std::vector<std::size_t> unnoticed;
    for (std::size_t index = 0; index < study_.slips.size(); ++index) {
      if (study_.slips[index].fate == Slip::Fate::gap) unnoticed.push_back(index);
    }
    const std::vector<solver::CaseAnswer> answers = runner_.ask(unnoticed.size(), [&](std::size_t index) {
      const dsl::Alteration& what = study_.slips[unnoticed[index]].what;
      return solver::Case{lowered(dsl::beside_original(design_, what), sources_), {0}};
    });
    for (std::size_t index = 0; index < unnoticed.size(); ++index) {
      study_.slips[unnoticed[index]].fate = effect(answers[index]);
    }
  }

  static Slip::Fate effect(const solver::CaseAnswer& answer) {
    if (answer.verdicts.empty()) return Slip::Fate::undecided;
    switch (answer.verdicts.front().outcome) {
      case Outcome::proved:
        return Slip::Fate::no_effect;
      case Outcome::refuted:
        return Slip::Fate::gap;
      default:
        return Slip::Fate::undecided;
    }
  }

  // ---- claims ----
  void find_claims_that_add_nothing() {
    for (const std::uint32_t claim : study_.claims) {
      const bool needed = std::any_of(study_.slips.begin(), study_.slips.end(),
                                      [&](const Slip& slip) { return rests_on(slip, claim); });
      if (!needed) study_.add_nothing.push_back(claim);
    }
  }

  /// Whether this claim alone notices the slip, or might: where something is open it is given the benefit.
  static bool rests_on(const Slip& slip, std::uint32_t claim) {
    const auto in = [&](const std::vector<std::uint32_t>& claims) {
      return std::find(claims.begin(), claims.end(), claim) != claims.end();
    };
    const bool others = slip.noticed_by.size() > (in(slip.noticed_by) ? 1U : 0U);
    return (in(slip.noticed_by) || in(slip.open)) && !others;
  }

  // ---- assumptions ----
  void drop_assumptions() {
    const std::size_t count = dsl::assumption_count(design_);
    std::vector<solver::CaseAnswer> answers(count);
    if (!safety_.empty()) {
      answers = runner_.ask(count, [&](std::size_t index) {
        return solver::Case{lowered(dsl::without_assumption(design_, index), sources_), safety_};
      });
    }
    for (std::size_t index = 0; index < count; ++index) {
      // Where nothing is proved, no proof needs anything.
      const auto fate = safety_.empty() ? AssumptionFinding::Fate::needless : need(answers[index].verdicts);
      study_.assumptions.push_back(
          {dsl::assumption_name(design_, index), dsl::assumption_place(design_, index), fate});
    }
  }

  static AssumptionFinding::Fate need(const std::vector<solver::Verdict>& verdicts) {
    const auto any = [&](Outcome outcome) {
      return std::any_of(verdicts.begin(), verdicts.end(),
                         [&](const solver::Verdict& verdict) { return verdict.outcome == outcome; });
    };
    if (any(Outcome::refuted)) return AssumptionFinding::Fate::needed;
    return verdicts.empty() || any(Outcome::undecided) ? AssumptionFinding::Fate::undecided
                                                       : AssumptionFinding::Fate::needless;
  }

  // ---- power-up ----
  void begin_at_rest() {
    if (possible_.empty()) return;
    std::map<std::string, dsl::Value> rest;
    const std::vector<dsl::Value> positions = solver::rest_positions(model_.circuit);
    for (std::size_t input = 0; input < positions.size(); ++input) {
      rest[model_.circuit.inputs()[input].name] = positions[input];
    }
    const dsl::Model model = lowered(dsl::from_rest(design_, rest), sources_);
    const solver::CaseAnswer answer =
        runner_.ask(1,
                    [&](std::size_t) {
                      return solver::Case{model, possible_};
                    })
            .front();
    study_.rest_is_possible = !answer.no_run_of;
    for (const solver::Verdict& verdict : answer.verdicts) {
      PowerUpFinding finding{.claim = verdict.claim};
      if (verdict.outcome != Outcome::undecided) {
        finding.fate = holds(verdict) ? PowerUpFinding::Fate::holds : PowerUpFinding::Fate::only_oddly;
      }
      study_.power_up.push_back(finding);
    }
  }

  const dsl::Design& design_;
  const dsl::Sources& sources_;
  GapStudy study_;
  CaseRunner runner_;
  dsl::Model model_;
  std::vector<std::uint32_t> safety_, possible_;
};

}  // namespace

GapStudy study_gaps(const dsl::Design& design, const dsl::Sources& sources, solver::CaseOptions options,
                    const StudyProgress& progress) {
  options.wants_runs = false;
  return Study(design, sources, options, progress).run();
}

}  // namespace detent::cli
