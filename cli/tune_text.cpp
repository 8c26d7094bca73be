// Head, one block a study: the intervals, then each edge from both sides.
#include "cli/tune_text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>

#include "cli/tune_picture.hpp"
#include "cli/verdict_text.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using solver::Standing;

constexpr const char* indent = "    ";

std::string standing_words(Standing standing) {
  switch (standing) {
    case Standing::holds:
      return "holds";
    case Standing::fails:
      return "FAILS";
    case Standing::no_design:
      return "no design";
    case Standing::no_run:
      return "no run";
    case Standing::undecided:
      return "undecided";
    case Standing::open:
      return "not looked at";
  }
  return "";
}

Style style_of(Standing standing) {
  if (standing == Standing::holds) return Style::good;
  return standing == Standing::fails ? Style::bad : Style::unsure;
}

std::string limit_reason(solver::Limit limit) {
  switch (limit) {
    case solver::Limit::time:
      return "the time allowed by --timeout was over";
    case solver::Limit::memory:
      return "the memory allowed by --memory was used up";
    case solver::Limit::interrupted:
      return "you stopped it";
    case solver::Limit::run_too_long:
      return "there is a run, but it is too long to be played again";
    default:
      return "the solver gave up";
  }
}

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
    if (study_.at(study_.grid.written).standing == Standing::fails) add_written();
    for (const solver::Edge& edge : study_.told) add_edge(edge);
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

  // ---- one tunable ----
  void add_intervals() {
    std::vector<std::array<std::string, 3>> rows;
    std::size_t first = 0, second = 0;
    const std::vector<TuneInterval> intervals = intervals_of(study_, 0);
    for (const TuneInterval& one : intervals) {
      rows.push_back({interval_words(one), standing_words(one.standing), remark(one)});
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

  /// What breaks there, or why it is no design.
  [[nodiscard]] std::string remark(const TuneInterval& one) const {
    const std::string size = count_words(one.last - one.first + 1, "value");
    if (one.standing == Standing::no_run) return size + "; the assumptions contradict each other";
    if (one.standing == Standing::no_design) {
      const dsl::Tried tried = design_at(study_, compiled_, one.first);
      return tried.errors.empty()
                 ? size
                 : fmt::format("{}; {}: {}", size, line_words(compiled_.sources, tried.errors.front().place),
                               tried.errors.front().message);
    }
    if (one.standing != Standing::fails && one.standing != Standing::undecided) return size;
    std::vector<std::string> names;
    for (std::size_t point = one.first; point <= one.last; ++point) {
      const std::string& name = model_.claims[study_.at(point).claim].name;
      if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    }
    return fmt::format("{}; {}", size, list_words(names, 5));
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

  // ---- both sides of an edge ----
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
    add_paragraph(page_, indent, fmt::format("{}: {}.", words(edge.inside), inside_words()), terminal_,
                  Style::good);
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
                              remark({edge.outside, edge.outside, outside})),
                  terminal_, style_of(outside));
  }

  [[nodiscard]] std::string inside_words() const {
    const auto possible = static_cast<std::size_t>(std::count_if(
        model_.claims.begin(), model_.claims.end(), [](const dsl::Claim& one) { return one.possible; }));
    const std::size_t safety = model_.claims.size() - possible;
    std::vector<std::string> parts;
    if (safety > 0) {
      parts.push_back(count_words(safety, "claim") + " proved in every run of any length");
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

  void add_statistics() {
    const solver::TuneStatistics& cost = study_.report.statistics;
    page_.push_back({});
    add_paragraph(page_, indent,
                  fmt::format("{} asked of the solver, {} known from the same circuit at another value, {} "
                              "decided by a run from another value, {:.2f} s",
                              count_words(cost.asked, "claim"), cost.shared,
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

std::string point_words(const TuneStudy& study, std::size_t point, std::int64_t tick_us) {
  if (study.axes.size() == 1) return dsl::value_text(study.axes[0].tunable, study.value(0, point), tick_us);
  std::vector<std::string> parts;
  for (std::size_t axis = 0; axis < study.axes.size(); ++axis) {
    const dsl::Tunable& tunable = study.axes[axis].tunable;
    parts.push_back(tunable.name + " " + dsl::value_text(tunable, study.value(axis, point), tick_us));
  }
  return fmt::format("{}", fmt::join(parts, ", "));
}

Page tune_page(const TuneResult& result, const TunePageWishes& wishes, const Terminal& terminal) {
  const Model& model = *result.compiled.model;
  Page page;
  const std::string title = model.title.empty() ? "" : fmt::format(" \"{}\"", model.title);
  page.push_back({{result.compiled.sources.name(0), Style::strong},
                  {title},
                  {fmt::format(", a tick is {}", dsl::time_text(1, model.tick_us)), Style::faint}});
  add_paragraph(
      page, "",
      fmt::format("Looked at: every value by itself, all other tunables as written, in every run of "
                  "any length; up to {} for each claim and value.",
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
