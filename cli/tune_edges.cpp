#include "cli/tune_edges.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "cli/tune_words.hpp"
#include "cli/verdict_text.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using solver::Standing;

constexpr const char* indent = "    ";

class EdgesPage {
 public:
  EdgesPage(const dsl::Compiled& compiled, const TuneStudy& study, const TunePageWishes& wishes,
            const Terminal& terminal)
      : compiled_(compiled), model_(*compiled.model), study_(study), wishes_(wishes), terminal_(terminal) {}

  Page page() {
    if (study_.at(study_.grid.written).standing == Standing::fails) add_written();
    for (const solver::Edge& edge : study_.told) add_edge(edge);
    return std::move(page_);
  }

 private:
  [[nodiscard]] std::string words(std::size_t point) const {
    return point_words(study_, point, model_.tick_us);
  }

  void add_written() {
    page_.push_back({});
    add_paragraph(page_, "", fmt::format("As written, {}:", words(study_.grid.written)), terminal_,
                  Style::strong);
    add_failure(study_.grid.written);
  }

  void add_edge(const solver::Edge& edge) {
    page_.push_back({});
    add_paragraph(
        page_, "",
        fmt::format("Edge: all claims hold at {}, and not at {}.", words(edge.inside), words(edge.outside)),
        terminal_, Style::strong);
    add_paragraph(page_, indent, fmt::format("{}: {}.", words(edge.inside), inside_words(edge.inside)),
                  terminal_, Style::good);
    const Standing outside = study_.at(edge.outside).standing;
    if (outside == Standing::fails) {
      if (edge.outside == study_.grid.written) {
        add_paragraph(page_, indent, fmt::format("{}: see above.", words(edge.outside)), terminal_,
                      Style::bad);
        return;
      }
      add_paragraph(page_, indent, fmt::format("{}:", words(edge.outside)), terminal_, Style::bad);
      add_failure(edge.outside);
      return;
    }
    add_paragraph(page_, indent,
                  fmt::format("{}: {}, {}.", words(edge.outside), standing_words(outside),
                              remark_words(study_, compiled_, {edge.outside, edge.outside, outside})),
                  terminal_, style_of(outside));
  }

  [[nodiscard]] std::string inside_words(std::size_t point) const {
    const auto possible = static_cast<std::size_t>(std::count_if(
        model_.claims.begin(), model_.claims.end(), [](const dsl::Claim& one) { return one.possible; }));
    const std::size_t safety = model_.claims.size() - possible;
    std::vector<std::string> parts;
    if (safety > 0) {
      const std::size_t together = study_.at(point).together;
      parts.push_back(count_words(safety, "claim") + " proved in every run of any length" +
                      (together > 1
                           ? fmt::format(" (with the value as an unknown, for {} at once)",
                                         count_words(together, study_.axes.size() == 2 ? "pair" : "value"))
                           : ""));
    }
    if (possible > 0) parts.push_back(count_words(possible, "claim") + " shown possible");
    return fmt::format("{}", fmt::join(parts, ", "));
  }

  void add_failure(std::size_t point) {
    const dsl::Tried tried = design_at(study_, compiled_, point);
    if (!tried.model) return;
    const solver::PointFinding& finding = study_.at(point);
    solver::Verdict verdict{.claim = finding.claim,
                            .outcome = solver::Outcome::refuted,
                            .ticks = finding.run ? 0 : finding.ticks,
                            .run = finding.run};
    if (finding.run && !finding.shortest) verdict.limit = finding.limit;
    if (finding.for_all_time) verdict.proof.emplace();
    page_.push_back({});
    add_page(page_,
             verdict_block(*tried.model, compiled_.sources, verdict, {wishes_.all_signals}, terminal_));
  }

  const dsl::Compiled& compiled_;
  const Model& model_;
  const TuneStudy& study_;
  const TunePageWishes& wishes_;
  const Terminal& terminal_;
  Page page_;
};

}  // namespace

Page edges_page(const dsl::Compiled& compiled, const TuneStudy& study, const TunePageWishes& wishes,
                const Terminal& terminal) {
  return EdgesPage(compiled, study, wishes, terminal).page();
}

}  // namespace detent::cli
