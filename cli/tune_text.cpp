// Head, one block a study: the intervals, then each edge from both sides.
#include "cli/tune_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "cli/tune_picture.hpp"
#include "cli/tune_words.hpp"
#include "cli/verdict_text.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using solver::Standing;

constexpr const char* indent = "    ";

class StudyPage {
 public:
  StudyPage(const TuneResult& result, const TuneStudy& study, const TunePageWishes& wishes,
            const Terminal& terminal)
      : compiled_(result.compiled),
        model_(*result.compiled.model),
        study_(study),
        telling_(result.compiled, study),
        wishes_(wishes),
        terminal_(terminal) {}

  Page page() {
    for (const TuneAxis& axis : study_.axes) add_axis(axis);
    page_.push_back({});
    for (const Span& one : telling_.answer()) add(indent, one);
    page_.push_back({});
    if (study_.axes.size() == 2) {
      add_table();
      page_.push_back({});
      add_page(page_, region_picture(study_, model_.tick_us, terminal_));
    } else {
      add_intervals();
    }
    for (const Span& one : telling_.vacuous()) {
      page_.push_back({});
      add(indent, one);
    }
    if (study_.at(study_.grid.written).standing == Standing::fails) add_written();
    for (const solver::Edge& edge : study_.told) add_edge(edge);
    if (study_.axes.size() == 1 && study_.told.size() < study_.edges.size()) {
      page_.push_back({});
      add(indent, telling_.more_edges());
    }
    if (wishes_.statistics) add_statistics();
    return std::move(page_);
  }

 private:
  void add(const std::string& first, const Span& words) {
    add_paragraph(page_, first, words.text, terminal_, words.style);
  }

  void add_axis(const TuneAxis& axis) {
    const dsl::Tunable& tunable = axis.tunable;
    page_.push_back(
        {{tunable.name, Style::strong}, {"  " + line_words(compiled_.sources, tunable.place), Style::faint}});
    if (!tunable.doc.empty()) add(indent, {fmt::format("\"{}\"", tunable.doc)});
    add(indent, {telling_.axis(axis)});
  }

  void add_intervals() {
    std::vector<std::array<std::string, 3>> rows;
    std::size_t first = 0, second = 0;
    const std::vector<TuneInterval> intervals = intervals_of(study_, 0);
    for (const TuneInterval& one : intervals) {
      rows.push_back({telling_.interval(one), standing_words(one.standing).text, telling_.remark(one)});
      first = std::max(first, columns(rows.back()[0]));
      second = std::max(second, columns(rows.back()[1]));
    }
    for (std::size_t row = 0; row < rows.size(); ++row) {
      const auto& [range, standing, more] = rows[row];
      add(indent + range + std::string(first - columns(range) + 2, ' ') + standing +
              std::string(second - columns(standing) + 2, ' '),
          {more, standing_words(intervals[row].standing).style});
    }
  }

  void add_table() {
    const auto rows = telling_.table();
    std::size_t width = 0;
    for (const auto& row : rows) width = std::max(width, columns(row.first));
    for (const auto& [first, second] : rows) {
      add(indent + first + std::string(width - columns(first) + 2, ' '), {second});
    }
  }

  // ---- both sides of an edge ----
  void add_written() {
    page_.push_back({});
    add("", {fmt::format("As written, {}:", telling_.point(study_.grid.written)), Style::strong});
    add_failure(study_.grid.written);
  }

  void add_edge(const solver::Edge& edge) {
    page_.push_back({});
    add("", telling_.edge(edge));
    add(indent, telling_.inside(edge, wishes_.statistics));
    add(indent, telling_.outside(edge));
    const bool told_above = edge.outside == study_.grid.written;
    if (study_.at(edge.outside).standing == Standing::fails && !told_above) add_failure(edge.outside);
  }

  void add_failure(std::size_t point) {
    const dsl::Tried tried = design_at(study_, compiled_, point);
    if (!tried.model) return;
    page_.push_back({});
    add_page(page_, verdict_block(*tried.model, compiled_.sources, failure_at(study_, point),
                                  {wishes_.all_signals}, terminal_));
  }

  void add_statistics() {
    const solver::TuneStatistics& cost = study_.report.statistics;
    page_.push_back({});
    add(indent, {fmt::format("{} asked of the solver, {} known from the same circuit at another value, {} "
                             "proved for many values at once, {} decided by a run from another value, "
                             "{:.2f} s",
                             count_words(cost.asked, "claim"), cost.shared, cost.together,
                             count_words(cost.carried, "value"), cost.seconds),
                 Style::faint});
  }

  const dsl::Compiled& compiled_;
  const Model& model_;
  const TuneStudy& study_;
  const TuneTelling telling_;
  const TunePageWishes& wishes_;
  const Terminal& terminal_;
  Page page_;
};

}  // namespace

Page tune_page(const TuneResult& result, const TunePageWishes& wishes, const Terminal& terminal) {
  const Model& model = *result.compiled.model;
  Page page;
  const std::string title = model.title.empty() ? "" : fmt::format(" \"{}\"", model.title);
  page.push_back({{result.compiled.sources.name(0), Style::strong},
                  {title},
                  {fmt::format(", a tick is {}", dsl::time_text(1, model.tick_us)), Style::faint}});
  add_paragraph(page, "", tune_reach_words(result), terminal, Style::faint);
  for (const TuneStudy& study : result.studies) {
    page.push_back({});
    add_page(page, StudyPage(result, study, wishes, terminal).page());
  }
  page.push_back({});
  add_paragraph(page, "", "A proof is about the model, not the wiring: blade or propeller off on the bench.",
                terminal);
  return page;
}

}  // namespace detent::cli
