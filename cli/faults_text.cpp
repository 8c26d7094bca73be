// One row for each fault, one column for each safety claim. As many columns as fit stand side by side; what
// does not fit follows in a table of its own.
#include "cli/faults_text.hpp"

#include <fmt/format.h>

#include "cli/heading.hpp"

#include <algorithm>

#include "cli/fault_summary.hpp"
#include "cli/verdict_text.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using solver::Outcome;
using solver::Verdict;

constexpr std::size_t widest_name = 44;
constexpr std::size_t cell_width = 9;

class FaultsPage {
 public:
  FaultsPage(const dsl::Compiled& compiled, const FaultStudy& study, const FaultsPageWishes& wishes,
             const Terminal& terminal)
      : compiled_(compiled), model_(*compiled.model), study_(study), wishes_(wishes), terminal_(terminal) {
    for (const std::uint32_t claim : study.claims) {
      (model_.claims[claim].possible ? possible_ : safety_).push_back(claim);
    }
  }

  Page make() {
    head();
    claims();
    table("single fault", study_.singles);
    if (study_.with_pairs) {
      table("two faults that are survived one by one", study_.pairs);
    }
    nuisances();
    if (wishes_.runs) {
      runs();
    }
    end();
    return std::move(page_);
  }

 private:
  void paragraph(const std::string& first, const std::string& text, Style style = Style::plain) {
    add_paragraph(page_, first, text, terminal_, style);
  }
  void blank() { page_.push_back({}); }

  void head() {
    page_.push_back(heading_of(compiled_));
    paragraph("",
              fmt::format("Looked at: {}, each by itself, in every run of any length{}.",
                          count_words(study_.singles.size(), "fault"), wishes_.allowed),
              Style::faint);
    paragraph(
        "",
        "A fault changes what the design reads or does, never what a claim says of the hands: of an input, "
        "and of a signal or timer made of inputs alone, a claim means how the hands really stand. Of all "
        "else "
        "(a latch, a counter) it sees what the faulty design does.",
        Style::faint);
  }

  // ---- claims ----
  void claims() {
    blank();
    for (std::size_t column = 0; column < safety_.size(); ++column) {
      const dsl::Claim& claim = model_.claims[safety_[column]];
      const std::string doc = claim.doc.empty() ? claim.text : fmt::format("\"{}\"", claim.doc);
      paragraph(fmt::format("claim {}  ", column + 1), fmt::format("{}: {}", claim.name, doc));
    }
    for (const Verdict& verdict : study_.without.verdicts) {
      if (verdict.outcome == Outcome::refuted || verdict.outcome == Outcome::undecided) {
        paragraph("",
                  fmt::format("{} is {} without any fault, and is not looked at here.",
                              model_.claims[verdict.claim].name,
                              verdict.outcome == Outcome::refuted ? "refuted" : "undecided"),
                  Style::bad);
      }
    }
    if (safety_.empty()) {
      paragraph("", "No safety claim holds without a fault, so there is nothing that a fault could break.",
                Style::bad);
    }
  }

  // ---- the table ----
  struct Cell {
    std::string text;
    Style style = Style::plain;
  };

  /// When the claim breaks, as a time; what holds is a dot, so that what falls is seen.
  Cell cell(const FaultCase& one, std::uint32_t claim) const {
    if (one.answer.no_run_of) return {"no run", Style::faint};
    const Verdict* verdict = find(one, claim);
    if (verdict == nullptr || verdict->outcome == Outcome::undecided) return {"?", Style::unsure};
    if (verdict->outcome != Outcome::refuted) return {terminal_.unicode ? "·" : ".", Style::faint};
    if (!verdict->run) return {"falls", Style::bad};
    return {seconds_words(static_cast<dsl::Value>(verdict->run->ticks()) - 1, model_.tick_us), Style::bad};
  }

  static const Verdict* find(const FaultCase& one, std::uint32_t claim) {
    const auto found = std::find_if(one.answer.verdicts.begin(), one.answer.verdicts.end(),
                                    [&](const Verdict& verdict) { return verdict.claim == claim; });
    return found == one.answer.verdicts.end() ? nullptr : &*found;
  }

  void table(const std::string& title, const std::vector<FaultCase>& cases) {
    if (safety_.empty()) return;
    std::size_t name_width = columns(title);
    for (const FaultCase& one : cases) {
      name_width = std::max(name_width, columns(fault_words(study_, one)));
    }
    name_width = std::min({name_width, widest_name, terminal_.width - cell_width});
    const std::size_t fitting = std::max<std::size_t>(1, (terminal_.width - name_width) / cell_width);
    for (std::size_t first = 0; first < safety_.size(); first += fitting) {
      const std::size_t last = std::min(first + fitting, safety_.size());
      blank();
      add_row(title, name_width, first, last, [](std::size_t column) {
        return Cell{fmt::format("claim {}", column + 1), Style::strong};
      });
      for (const FaultCase& one : cases) {
        add_row(fault_words(study_, one), name_width, first, last,
                [&](std::size_t column) { return cell(one, safety_[column]); });
      }
    }
    if (cases.empty()) paragraph("", "none", Style::faint);
  }

  template <class CellOf>
  void add_row(const std::string& name, std::size_t width, std::size_t first, std::size_t last,
               const CellOf& cell_of) {
    std::vector<std::string> lines = wrapped(name, width);
    for (std::size_t index = 0; index + 1 < lines.size(); ++index) page_.push_back({{lines[index]}});
    Line line{{lines.back() + std::string(width - std::min(width, columns(lines.back())), ' ')}};
    for (std::size_t column = first; column < last; ++column) {
      const Cell one = cell_of(column);
      const std::size_t taken = columns(one.text);
      line.push_back({std::string(taken < cell_width ? cell_width - taken : 1, ' ')});
      line.push_back({one.text, one.style});
    }
    page_.push_back(std::move(line));
  }

  // ---- what is only a nuisance ----
  void nuisances() {
    for (const std::uint32_t claim : possible_) {
      std::vector<std::string> names;
      for (const FaultCase& one : study_.singles) {
        const Verdict* verdict = find(one, claim);
        if (verdict != nullptr && verdict->outcome == Outcome::refuted)
          names.push_back(fault_words(study_, one));
      }
      if (names.empty()) continue;
      blank();
      paragraph(
          "", fmt::format("{}, which should be possible, is prevented by {}. That is a nuisance, no danger.",
                          model_.claims[claim].name, list_words(names)));
    }
  }

  // ---- runs ----
  void runs() {
    for (const auto* cases : {&study_.singles, &study_.pairs}) {
      for (const FaultCase& one : *cases) {
        for (const Verdict& verdict : one.answer.verdicts) {
          if (verdict.outcome == Outcome::refuted && verdict.run) show_run(one, verdict);
        }
      }
    }
  }

  void show_run(const FaultCase& one, const Verdict& verdict) {
    const Model model = model_with(*compiled_.design, compiled_.sources, study_.faults, one.faults);
    blank();
    page_.push_back({{"With this fault: "}, {fault_words(study_, one), Style::strong}});
    add_page(page_, verdict_block(model, compiled_.sources, verdict, {}, terminal_));
  }

  // ---- the end ----
  /// Safety claims that are proved as the design stands: what a fault can take away.
  [[nodiscard]] std::size_t to_lose() const {
    return static_cast<std::size_t>(std::count_if(
        study_.without.verdicts.begin(), study_.without.verdicts.end(), [&](const Verdict& verdict) {
          return verdict.outcome == Outcome::proved && !model_.claims[verdict.claim].possible;
        }));
  }

  void end() {
    blank();
    if (to_lose() == 0) {
      paragraph("",
                "No safety claim is proved as the design stands, so there is nothing that a fault could take "
                "away, and nothing to survive. Write what must never happen as a claim, and mend the design "
                "until it is proved.",
                Style::bad);
      return;
    }
    share("single fault", study_.singles);
    if (study_.with_pairs) share("pair", study_.pairs);
    first_to_fall();
    paragraph(
        "",
        "This is an aid to, and no replacement for, an assessment under the standards of machine safety "
        "(ISO 13849-1, IEC 62061): it knows only the faults listed here, in the model, and neither how "
        "likely they are nor whether they are noticed.");
  }

  void share(const std::string& what, const std::vector<FaultCase>& cases) {
    const FaultSummary sum = summary_of(model_, study_, cases);
    const std::size_t possible = cases.size() - sum.ruled_out;
    if (possible == 0) {
      paragraph("",
                cases.empty()
                    ? fmt::format("There is no {} to look at{}.", what,
                                  what == "pair" ? ": fewer than two faults of different elements are "
                                                   "survived one by one"
                                                 : "")
                    : fmt::format("The assumptions rule out every {} that was to be looked at.", what),
                Style::unsure);
      return;
    }
    std::string text = fmt::format("The design survives {} of {}", sum.survived, count_words(possible, what));
    text += fmt::format(" ({} %)", 100 * sum.survived / possible);
    text += to_lose() == safety_.size() ? ", with every safety claim still proved"
                                        : ", with every safety claim still proved that is proved without it";
    if (sum.fallen > 0) text += fmt::format("; with {} a claim falls", sum.fallen);
    if (sum.undecided > 0) text += fmt::format("; {} undecided", sum.undecided);
    if (sum.ruled_out > 0) text += fmt::format("; {} more ruled out by the assumptions", sum.ruled_out);
    text += ".";
    const bool good = sum.fallen == 0 && sum.undecided == 0;
    paragraph("", text, good ? Style::good : (sum.fallen > 0 ? Style::bad : Style::unsure));
  }

  void first_to_fall() {
    const FaultSummary sum = summary_of(model_, study_, study_.singles);
    if (sum.fallen_claims.empty()) return;
    const auto& most = sum.fallen_claims.front();
    const auto first =
        std::min_element(sum.fallen_claims.begin(), sum.fallen_claims.end(),
                         [](const auto& one, const auto& other) { return one.shortest < other.shortest; });
    paragraph("", fmt::format("{} falls with the most faults ({}); {} falls first (at {}).",
                              model_.claims[most.claim].name, most.faults, model_.claims[first->claim].name,
                              seconds_words(std::max<dsl::Value>(first->shortest - 1, 0), model_.tick_us)));
  }

  const dsl::Compiled& compiled_;
  const Model& model_;
  const FaultStudy& study_;
  const FaultsPageWishes& wishes_;
  const Terminal& terminal_;
  std::vector<std::uint32_t> safety_, possible_;
  Page page_;
};

}  // namespace

Page faults_page(const dsl::Compiled& compiled, const FaultStudy& study, const FaultsPageWishes& wishes,
                 const Terminal& terminal) {
  return FaultsPage(compiled, study, wishes, terminal).make();
}

}  // namespace detent::cli
