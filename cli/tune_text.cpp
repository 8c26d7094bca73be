// Head, one block a study: the intervals, then each edge from both sides.
#include "cli/tune_text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <map>

#include "cli/tune_edges.hpp"
#include "cli/tune_picture.hpp"
#include "cli/tune_words.hpp"
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
        wishes_(wishes),
        terminal_(terminal) {}

  Page page() {
    for (const TuneAxis& axis : study_.axes) add_axis(axis);
    add_answer();
    page_.push_back({});
    if (study_.axes.size() == 2) {
      add_table();
      page_.push_back({});
      add_page(page_, region_picture(study_, model_.tick_us, terminal_));
    } else {
      add_intervals();
    }
    add_vacuous();
    add_page(page_, edges_page(compiled_, study_, wishes_, terminal_));
    if (study_.axes.size() == 1 && study_.told.size() < study_.edges.size()) {
      page_.push_back({});
      add_paragraph(page_, indent,
                    fmt::format("There are {} more edges, which --format json tells.",
                                study_.edges.size() - study_.told.size()),
                    terminal_, Style::faint);
    }
    if (wishes_.statistics) add_statistics();
    return std::move(page_);
  }

 private:
  [[nodiscard]] std::string words(std::size_t point) const {
    return point_words(study_, point, model_.tick_us);
  }

  void add_axis(const TuneAxis& axis) {
    const dsl::Tunable& tunable = axis.tunable;
    const auto said = [&](dsl::Value value) { return dsl::value_text(tunable, value, model_.tick_us); };
    page_.push_back(
        {{tunable.name, Style::strong}, {"  " + line_words(compiled_.sources, tunable.place), Style::faint}});
    if (!tunable.doc.empty()) add_paragraph(page_, indent, fmt::format("\"{}\"", tunable.doc), terminal_);
    const std::string step = axis.values.size() > 1 ? fmt::format(" in steps of {}", said(axis.step)) : "";
    add_paragraph(
        page_, indent,
        fmt::format("Written {}; looked at {} to {}{}: {}.", said(tunable.written), said(axis.values.front()),
                    said(axis.values.back()), step, count_words(axis.values.size(), "value")),
        terminal_);
  }

  [[nodiscard]] std::size_t count(Standing standing) const {
    return static_cast<std::size_t>(
        std::count_if(study_.report.points.begin(), study_.report.points.end(),
                      [&](const solver::PointFinding& one) { return one.standing == standing; }));
  }

  void add_answer() {
    const std::size_t all = study_.grid.points();
    const std::size_t holds = count(Standing::holds);
    const std::string values = study_.axes.size() == 2 ? "pair" : "value";
    const std::string what =
        holds == all ? fmt::format("All claims hold at all {}.", count_words(all, values))
        : holds == 0 ? fmt::format("At none of the {} do all claims hold.", count_words(all, values))
                     : fmt::format("All claims hold at {} of {}.", holds, count_words(all, values));
    const Standing written = study_.at(study_.grid.written).standing;
    const std::string where = written == Standing::holds   ? "What is written is one of them."
                              : written == Standing::fails ? "What is written fails."
                                                           : "What is written is not decided.";
    page_.push_back({});
    add_paragraph(page_, indent, what + " " + where, terminal_, style_of(written));
    add_undecided();
  }

  void add_undecided() {
    const std::size_t open = count(Standing::open);
    if (open > 0) {
      add_paragraph(page_, indent,
                    fmt::format("Stopped before {} could be looked at.", count_words(open, "value")),
                    terminal_, Style::unsure);
    }
    const auto& points = study_.report.points;
    const auto found = std::find_if(points.begin(), points.end(), [](const solver::PointFinding& one) {
      return one.standing == Standing::undecided;
    });
    if (found == points.end()) return;
    const auto point = static_cast<std::size_t>(found - points.begin());
    add_paragraph(
        page_, indent,
        fmt::format("{} left undecided: at {}, for {}, {}.", count_words(count(Standing::undecided), "value"),
                    words(point), model_.claims[found->claim].name, limit_reason(found->limit)),
        terminal_, Style::unsure);
  }

  /// Claims that hold at some values only because there is nothing that they could be broken by.
  void add_vacuous() {
    std::map<std::uint32_t, std::vector<std::size_t>> values_of;
    for (std::size_t point = 0; point < study_.grid.points(); ++point) {
      for (const std::uint32_t claim : study_.at(point).vacuous) values_of[claim].push_back(point);
    }
    for (const auto& [claim, points] : values_of) {
      page_.push_back({});
      const std::string where = points.size() == 1
                                    ? fmt::format("at {}", words(points.front()))
                                    : fmt::format("at {} of these values, the first {}, the last {}",
                                                  points.size(), words(points.front()), words(points.back()));
      add_paragraph(page_, indent,
                    fmt::format("{} says nothing {}: its condition never comes true there.",
                                model_.claims[claim].name, where),
                    terminal_, Style::unsure);
    }
  }

  // ---- one tunable ----
  void add_intervals() {
    std::vector<std::array<std::string, 3>> rows;
    std::size_t first = 0, second = 0;
    const std::vector<TuneInterval> intervals = intervals_of(study_, 0);
    for (const TuneInterval& one : intervals) {
      rows.push_back(
          {interval_words(one), standing_words(one.standing), remark_words(study_, compiled_, one)});
      first = std::max(first, columns(rows.back()[0]));
      second = std::max(second, columns(rows.back()[1]));
    }
    for (std::size_t row = 0; row < rows.size(); ++row) {
      const auto& [range, standing, more] = rows[row];
      Page line;
      add_paragraph(line,
                    indent + range + std::string(first - columns(range) + 2, ' ') + standing +
                        std::string(second - columns(standing) + 2, ' '),
                    more, terminal_, style_of(intervals[row].standing));
      add_page(page_, line);
    }
  }

  [[nodiscard]] std::string interval_words(const TuneInterval& one) const {
    const std::size_t axis = study_.axes.size() - 1;
    const auto said = [&](std::size_t point) {
      return dsl::value_text(study_.axes[axis].tunable, study_.value(axis, point), model_.tick_us);
    };
    return one.first == one.last ? said(one.first) : fmt::format("{} to {}", said(one.first), said(one.last));
  }

  // ---- two tunables ----
  [[nodiscard]] std::string row_words(std::size_t row) const {
    std::vector<std::string> held;
    for (const TuneInterval& one : intervals_of(study_, row)) {
      if (one.standing == Standing::holds) held.push_back(interval_words(one));
    }
    bool unknown = false;
    for (const TuneInterval& one : intervals_of(study_, row)) {
      unknown = unknown || one.standing == Standing::undecided || one.standing == Standing::open;
    }
    return (held.empty() ? "none" : list_words(held)) + (unknown ? " (and some undecided)" : "");
  }

  void add_table() {
    const TuneAxis& axis = study_.axes[0];
    const auto said = [&](std::size_t row) {
      return dsl::value_text(axis.tunable, axis.values[row], model_.tick_us);
    };
    std::vector<std::pair<std::string, std::string>> rows{
        {axis.tunable.name, fmt::format("{} for which all claims hold", study_.axes[1].tunable.name)}};
    for (std::size_t row = 0; row < study_.grid.rows;) {
      const std::string held = row_words(row);
      std::size_t last = row;
      while (last + 1 < study_.grid.rows && row_words(last + 1) == held) ++last;
      rows.emplace_back(last == row ? said(row) : fmt::format("{} to {}", said(row), said(last)), held);
      row = last + 1;
    }
    std::size_t width = 0;
    for (const auto& row : rows) width = std::max(width, columns(row.first));
    for (const auto& [first, second] : rows) {
      add_paragraph(page_, indent + first + std::string(width - columns(first) + 2, ' '), second, terminal_);
    }
  }

  void add_statistics() {
    const solver::TuneStatistics& cost = study_.report.statistics;
    page_.push_back({});
    add_paragraph(
        page_, indent,
        fmt::format("{} asked of the solver, {} known from the same circuit at another value, {} "
                    "proved for many values at once, {} decided by a run from another value, {:.2f} s",
                    count_words(cost.asked, "claim"), cost.shared, cost.together,
                    count_words(cost.carried, "value"), cost.seconds),
        terminal_, Style::faint);
  }

  const dsl::Compiled& compiled_;
  const Model& model_;
  const TuneStudy& study_;
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
  add_paragraph(
      page, "",
      fmt::format(
          "Looked at: every value, all other tunables as written, in every run of any length; up to {} for "
          "each claim and value.",
          result.allowed),
      terminal, Style::faint);
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
