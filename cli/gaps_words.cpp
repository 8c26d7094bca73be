#include "cli/gaps_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;

std::vector<std::string> names_of(const Model& model, const std::vector<std::uint32_t>& claims) {
  std::vector<std::string> names;
  for (const std::uint32_t claim : claims) names.push_back(model.claims[claim].name);
  return names;
}

void on_claims(const Model& model, const GapStudy& study, std::vector<Span>& remarks) {
  if (study.add_nothing.empty()) return;
  remarks.push_back(
      {fmt::format("As far as these changes tell, claims that add nothing the others do not notice "
                   "(whatever change such a claim notices, another notices too; where two are listed "
                   "that notice the same, one of them is still needed): {}.",
                   list_words(names_of(model, study.add_nothing)))});
}

void on_assumptions(const dsl::Sources& sources, const GapStudy& study, std::vector<Span>& remarks) {
  std::vector<std::string> needless;
  for (const AssumptionFinding& one : study.assumptions) {
    if (one.fate == AssumptionFinding::Fate::needless) {
      needless.push_back(fmt::format("{} ({})", one.name, line_words(sources, one.place)));
    }
    if (one.fate == AssumptionFinding::Fate::undecided) {
      remarks.push_back(
          {fmt::format("Whether a proof needs the assumption {} is undecided.", one.name), Style::unsure});
    }
  }
  if (needless.empty()) return;
  remarks.push_back(
      {fmt::format("Assumptions that no proof needs (without it, by itself, every claim is still "
                   "proved): {}.",
                   list_words(needless))});
}

void on_power_up(const Model& model, const GapStudy& study, std::vector<Span>& remarks) {
  std::vector<std::string> odd;
  for (const PowerUpFinding& one : study.power_up) {
    if (one.fate == PowerUpFinding::Fate::only_oddly) odd.push_back(model.claims[one.claim].name);
  }
  if (!odd.empty()) {
    remarks.push_back(
        {fmt::format("Possible only thanks to an odd power-up (no longer so when every hand begins at "
                     "rest, every link is there and edges at power-up are ignored): {}.",
                     list_words(odd)),
         Style::bad});
  }
  if (!study.rest_is_possible) {
    remarks.push_back(
        {"What the design says of power-up does not let every hand begin at rest, so whether its "
         "possible claims need an odd power-up was not looked at."});
  }
}

}  // namespace

std::size_t count_of(const GapStudy& study, Slip::Fate fate) {
  return static_cast<std::size_t>(std::count_if(study.slips.begin(), study.slips.end(),
                                                [&](const Slip& slip) { return slip.fate == fate; }));
}

Span fate_words(Slip::Fate fate) {
  switch (fate) {
    case Slip::Fate::gap:
      return {"Nobody would notice if the design were otherwise here; every claim would still hold:",
              Style::bad};
    case Slip::Fate::undecided:
      return {"Whether anybody would notice these could not be decided in the time allowed:", Style::unsure};
    case Slip::Fate::no_effect:
      return {"These change nothing at any output, in any run, and so are no gaps:"};
    case Slip::Fate::noticed:
      return {"These are noticed:"};
  }
  return {};
}

Span gaps_reach_words(const GapStudy& study, const std::string& allowed) {
  return {fmt::format("Looked at: {} of the design, each by itself, in every run of any length{}.",
                      count_words(study.slips.size(), "small change"), allowed),
          Style::faint};
}

std::vector<Span> claims_that_notice_nothing(const Model& model, const GapStudy& study) {
  std::vector<Span> said;
  for (const solver::Verdict& verdict : study.without.verdicts) {
    const bool refuted = verdict.outcome == solver::Outcome::refuted;
    if (!refuted && verdict.outcome != solver::Outcome::undecided) continue;
    said.push_back({fmt::format("The claim {} is {} as the design stands, and so notices nothing here.",
                                model.claims[verdict.claim].name, refuted ? "refuted" : "undecided"),
                    Style::bad});
  }
  return said;
}

std::vector<Span> gap_remarks(const dsl::Compiled& compiled, const GapStudy& study) {
  std::vector<Span> remarks;
  on_claims(*compiled.model, study, remarks);
  on_assumptions(compiled.sources, study, remarks);
  on_power_up(*compiled.model, study, remarks);
  return remarks;
}

Span gaps_summary_words(const GapStudy& study) {
  const std::size_t gaps = count_of(study, Slip::Fate::gap);
  const std::size_t undecided = count_of(study, Slip::Fate::undecided);
  std::string text =
      fmt::format("{}: {} noticed, {} nobody would notice, {} without effect",
                  count_words(study.slips.size(), "small change"), count_of(study, Slip::Fate::noticed), gaps,
                  count_of(study, Slip::Fate::no_effect));
  if (undecided > 0) text += fmt::format(", {} undecided", undecided);
  return {std::move(text), gaps > 0 ? Style::bad : (undecided > 0 ? Style::unsure : Style::good)};
}

std::string gap_caution() {
  return "A gap is no fault of the design: it is something that the claims leave open. Say it in a claim, "
         "if it matters.";
}

}  // namespace detent::cli
