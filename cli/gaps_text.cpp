// What nobody would notice comes first, by place; then what need not be there.
#include "cli/gaps_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/words.hpp"

namespace detent::cli {
namespace {

class GapsPage {
 public:
  GapsPage(const dsl::Compiled& compiled, const GapStudy& study, const std::string& allowed,
           const Terminal& terminal)
      : compiled_(compiled), model_(*compiled.model), study_(study), allowed_(allowed), terminal_(terminal) {}

  Page make() {
    head();
    not_holding();
    slips(Slip::Fate::gap,
          "Nobody would notice if the design were otherwise here; every claim would still hold:", Style::bad);
    slips(Slip::Fate::undecided,
          "Whether anybody would notice these could not be decided in the time allowed:", Style::unsure);
    slips(Slip::Fate::no_effect,
          "These change nothing at any output, in any run, and so are no gaps:", Style::plain);
    claims();
    assumptions();
    power_up();
    end();
    return std::move(page_);
  }

 private:
  void paragraph(const std::string& first, const std::string& text, Style style = Style::plain) {
    add_paragraph(page_, first, text, terminal_, style);
  }
  void blank() { page_.push_back({}); }

  void head() {
    const std::string title = model_.title.empty() ? "" : fmt::format(" \"{}\"", model_.title);
    page_.push_back({{compiled_.sources.name(0), Style::strong},
                     {title},
                     {fmt::format(", a tick is {}", dsl::time_text(1, model_.tick_us)), Style::faint}});
    paragraph("",
              fmt::format("Looked at: {} of the design, each by itself, in every run of any length{}.",
                          count_words(study_.slips.size(), "small change"), allowed_),
              Style::faint);
  }

  void not_holding() {
    for (const solver::Verdict& verdict : study_.without.verdicts) {
      const bool refuted = verdict.outcome == solver::Outcome::refuted;
      if (refuted || verdict.outcome == solver::Outcome::undecided) {
        blank();
        paragraph("",
                  fmt::format("The claim {} is {} as the design stands, and so notices nothing here.",
                              model_.claims[verdict.claim].name, refuted ? "refuted" : "undecided"),
                  Style::bad);
      }
    }
  }

  void slips(Slip::Fate fate, const std::string& sentence, Style style) {
    if (count_of(study_, fate) == 0) return;
    blank();
    paragraph("", sentence, style);
    for (const Slip& slip : study_.slips) {
      if (slip.fate == fate) {
        paragraph(fmt::format("  {:<8} ", line_words(compiled_.sources, slip.what.place)), slip.what.name);
      }
    }
  }

  [[nodiscard]] std::vector<std::string> names(const std::vector<std::uint32_t>& claims) const {
    std::vector<std::string> names;
    for (const std::uint32_t claim : claims) names.push_back(model_.claims[claim].name);
    return names;
  }

  void claims() {
    if (study_.add_nothing.empty()) return;
    blank();
    paragraph("",
              fmt::format("As far as these changes tell, claims that add nothing the others do not notice "
                          "(whatever change such a claim notices, another notices too; where two are listed "
                          "that notice the same, one of them is still needed): {}.",
                          list_words(names(study_.add_nothing))));
  }

  void assumptions() {
    std::vector<std::string> needless;
    for (const AssumptionFinding& one : study_.assumptions) {
      if (one.fate == AssumptionFinding::Fate::needless) {
        needless.push_back(fmt::format("{} ({})", one.name, line_words(compiled_.sources, one.place)));
      }
      if (one.fate == AssumptionFinding::Fate::undecided) {
        blank();
        paragraph("", fmt::format("Whether a proof needs the assumption {} is undecided.", one.name),
                  Style::unsure);
      }
    }
    if (needless.empty()) return;
    blank();
    paragraph("", fmt::format("Assumptions that no proof needs (without it, by itself, every claim is still "
                              "proved): {}.",
                              list_words(needless)));
  }

  void power_up() {
    std::vector<std::string> odd;
    for (const PowerUpFinding& one : study_.power_up) {
      if (one.fate == PowerUpFinding::Fate::only_oddly) odd.push_back(model_.claims[one.claim].name);
    }
    if (!odd.empty()) {
      blank();
      paragraph("",
                fmt::format("Possible only thanks to an odd power-up (no longer so when every hand begins at "
                            "rest, every link is there and edges at power-up are ignored): {}.",
                            list_words(odd)),
                Style::bad);
    }
    if (!study_.rest_is_possible) {
      blank();
      paragraph("",
                "What the design says of power-up does not let every hand begin at rest, so whether its "
                "possible claims need an odd power-up was not looked at.");
    }
  }

  void end() {
    blank();
    const std::size_t gaps = count_of(study_, Slip::Fate::gap);
    const std::size_t undecided = count_of(study_, Slip::Fate::undecided);
    std::string text =
        fmt::format("{}: {} noticed, {} nobody would notice, {} without effect",
                    count_words(study_.slips.size(), "small change"), count_of(study_, Slip::Fate::noticed),
                    gaps, count_of(study_, Slip::Fate::no_effect));
    if (undecided > 0) text += fmt::format(", {} undecided", undecided);
    paragraph("", text, gaps > 0 ? Style::bad : (undecided > 0 ? Style::unsure : Style::good));
    paragraph(
        "",
        "A gap is no fault of the design: it is something that the claims leave open. Say it in a claim, "
        "if it matters.");
  }

  const dsl::Compiled& compiled_;
  const dsl::Model& model_;
  const GapStudy& study_;
  const std::string& allowed_;
  const Terminal& terminal_;
  Page page_;
};

}  // namespace

std::size_t count_of(const GapStudy& study, Slip::Fate fate) {
  return static_cast<std::size_t>(std::count_if(study.slips.begin(), study.slips.end(),
                                                [&](const Slip& slip) { return slip.fate == fate; }));
}

Page gaps_page(const dsl::Compiled& compiled, const GapStudy& study, const std::string& allowed,
               const Terminal& terminal) {
  return GapsPage(compiled, study, allowed, terminal).make();
}

}  // namespace detent::cli
