// One row for each fault, one column for each safety claim. As many columns as fit stand side by side; what
// does not fit follows in a table of its own.
#include "cli/faults_text.hpp"

#include <fmt/format.h>

#include "cli/heading.hpp"

#include <algorithm>

#include "cli/fault_summary.hpp"
#include "cli/faults_words.hpp"
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
      : compiled_(compiled),
        model_(*compiled.model),
        study_(study),
        wishes_(wishes),
        terminal_(terminal),
        safety_(safety_claims(*compiled.model, study)) {}

  Page make() {
    page_.push_back(heading_of(compiled_));
    for (const Span& one : faults_reach_words(study_, wishes_.allowed)) paragraph(one);
    claims();
    table("single fault", study_.singles);
    if (study_.with_pairs) {
      table("two faults that are survived one by one", study_.pairs);
    }
    for (const Span& one : nuisance_words(model_, study_)) {
      blank();
      paragraph(one);
    }
    if (wishes_.runs) {
      runs();
    }
    blank();
    for (const Span& one : faults_summary_words(model_, study_)) paragraph(one);
    return std::move(page_);
  }

 private:
  void paragraph(const Span& words) { add_paragraph(page_, "", words.text, terminal_, words.style); }
  void blank() { page_.push_back({}); }

  // ---- claims ----
  void claims() {
    blank();
    for (std::size_t column = 0; column < safety_.size(); ++column) {
      const dsl::Claim& claim = model_.claims[safety_[column]];
      const std::string doc = claim.doc.empty() ? claim.text : fmt::format("\"{}\"", claim.doc);
      add_paragraph(page_, fmt::format("claim {}  ", column + 1), fmt::format("{}: {}", claim.name, doc),
                    terminal_);
    }
    for (const Span& one : not_looked_at_words(model_, study_)) paragraph(one);
  }

  // ---- the table ----
  Span cell(const FaultCase& one, std::uint32_t claim) const {
    Span words = fault_cell_words(model_, one, claim);
    if (words.text.empty()) words.text = terminal_.unicode ? "·" : ".";
    return words;
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
        return Span{fmt::format("claim {}", column + 1), Style::strong};
      });
      for (const FaultCase& one : cases) {
        add_row(fault_words(study_, one), name_width, first, last,
                [&](std::size_t column) { return cell(one, safety_[column]); });
      }
    }
    if (cases.empty()) paragraph({"none", Style::faint});
  }

  template <class CellOf>
  void add_row(const std::string& name, std::size_t width, std::size_t first, std::size_t last,
               const CellOf& cell_of) {
    std::vector<std::string> lines = wrapped(name, width);
    for (std::size_t index = 0; index + 1 < lines.size(); ++index) page_.push_back({{lines[index]}});
    Line line{{lines.back() + std::string(width - std::min(width, columns(lines.back())), ' ')}};
    for (std::size_t column = first; column < last; ++column) {
      const Span one = cell_of(column);
      const std::size_t taken = columns(one.text);
      line.push_back({std::string(taken < cell_width ? cell_width - taken : 1, ' ')});
      line.push_back({one.text, one.style});
    }
    page_.push_back(std::move(line));
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

  const dsl::Compiled& compiled_;
  const Model& model_;
  const FaultStudy& study_;
  const FaultsPageWishes& wishes_;
  const Terminal& terminal_;
  std::vector<std::uint32_t> safety_;
  Page page_;
};

}  // namespace

Page faults_page(const dsl::Compiled& compiled, const FaultStudy& study, const FaultsPageWishes& wishes,
                 const Terminal& terminal) {
  return FaultsPage(compiled, study, wishes, terminal).make();
}

}  // namespace detent::cli
