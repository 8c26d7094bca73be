#include "cli/tune_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>

#include "cli/words.hpp"

namespace detent::cli {
namespace {

using solver::PointFinding;
using solver::Standing;

std::string limit_reason(solver::Limit limit) {
  switch (limit) {
    case solver::Limit::time:
      return "the time allowed by --timeout was over";
    case solver::Limit::memory:
      return "the memory allowed by --memory was used up";
    case solver::Limit::interrupted:
      return "you stopped it, or the time allowed by --total-timeout was over";
    case solver::Limit::run_too_long:
      return "there is a run, but it is too long to be played again";
    default:
      return "the solver gave up";
  }
}

}  // namespace

Span standing_words(Standing standing) {
  switch (standing) {
    case Standing::holds:
      return {"holds", Style::good};
    case Standing::fails:
      return {"FAILS", Style::bad};
    case Standing::no_design:
      return {"no design", Style::unsure};
    case Standing::no_run:
      return {"no run", Style::unsure};
    case Standing::undecided:
      return {"undecided", Style::unsure};
    case Standing::open:
      return {"not looked at", Style::unsure};
  }
  return {};
}

std::string tune_reach_words(const TuneResult& result) {
  return fmt::format(
      "Looked at: every value, all other tunables as written, in every run of any length; up to {} for "
      "each claim and value.",
      result.allowed);
}

namespace {

/// "3 s" of one tunable; "open 3 s, wait 4 s" of two.
std::string point_words(const TuneStudy& study, std::size_t point, std::int64_t tick_us) {
  if (study.axes.size() == 1) return dsl::value_text(study.axes[0].tunable, study.value(0, point), tick_us);
  std::vector<std::string> parts;
  for (std::size_t axis = 0; axis < study.axes.size(); ++axis) {
    const dsl::Tunable& tunable = study.axes[axis].tunable;
    parts.push_back(tunable.name + " " + dsl::value_text(tunable, study.value(axis, point), tick_us));
  }
  return fmt::format("{}", fmt::join(parts, ", "));
}

}  // namespace

solver::Verdict failure_at(const TuneStudy& study, std::size_t point) {
  const PointFinding& finding = study.at(point);
  solver::Verdict verdict{.claim = finding.claim,
                          .outcome = solver::Outcome::refuted,
                          .ticks = finding.run ? 0 : finding.ticks,
                          .run = finding.run};
  if (finding.run && !finding.shortest) verdict.limit = finding.limit;
  if (finding.for_all_time) verdict.proof.emplace();
  return verdict;
}

std::string TuneTelling::point(std::size_t point) const {
  return point_words(study_, point, model_.tick_us);
}

std::string TuneTelling::axis(const TuneAxis& axis) const {
  const dsl::Tunable& tunable = axis.tunable;
  const auto said = [&](dsl::Value value) { return dsl::value_text(tunable, value, model_.tick_us); };
  const std::string step = axis.values.size() > 1 ? fmt::format(" in steps of {}", said(axis.step)) : "";
  return fmt::format("Written {}; looked at {} to {}{}: {}.", said(tunable.written),
                     said(axis.values.front()), said(axis.values.back()), step,
                     count_words(axis.values.size(), "value"));
}

std::size_t TuneTelling::count(Standing standing) const {
  return static_cast<std::size_t>(
      std::count_if(study_.report.points.begin(), study_.report.points.end(),
                    [&](const PointFinding& one) { return one.standing == standing; }));
}

std::vector<Span> TuneTelling::answer() const {
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
  std::vector<Span> said{{what + " " + where, standing_words(written).style}};
  add_undecided(said);
  return said;
}

void TuneTelling::add_undecided(std::vector<Span>& said) const {
  const std::size_t open = count(Standing::open);
  if (open > 0) {
    said.push_back(
        {fmt::format("Stopped before {} could be looked at.", count_words(open, "value")), Style::unsure});
  }
  const auto& points = study_.report.points;
  const auto found = std::find_if(points.begin(), points.end(), [](const PointFinding& one) {
    return one.standing == Standing::undecided;
  });
  if (found == points.end()) return;
  said.push_back(
      {fmt::format("{} left undecided: at {}, for {}, {}.", count_words(count(Standing::undecided), "value"),
                   point(static_cast<std::size_t>(found - points.begin())), model_.claims[found->claim].name,
                   limit_reason(found->limit)),
       Style::unsure});
}

std::vector<Span> TuneTelling::vacuous() const {
  std::map<std::uint32_t, std::vector<std::size_t>> values_of;
  for (std::size_t at = 0; at < study_.grid.points(); ++at) {
    for (const std::uint32_t claim : study_.at(at).vacuous) values_of[claim].push_back(at);
  }
  std::vector<Span> said;
  for (const auto& [claim, points] : values_of) {
    const std::string where = points.size() == 1
                                  ? fmt::format("at {}", point(points.front()))
                                  : fmt::format("at {} of these values, the first {}, the last {}",
                                                points.size(), point(points.front()), point(points.back()));
    said.push_back({fmt::format("{} says nothing {}: its condition never comes true there.",
                                model_.claims[claim].name, where),
                    Style::unsure});
  }
  return said;
}

std::string TuneTelling::interval(const TuneInterval& one) const {
  const std::size_t axis = study_.axes.size() - 1;
  const auto said = [&](std::size_t point) {
    return dsl::value_text(study_.axes[axis].tunable, study_.value(axis, point), model_.tick_us);
  };
  return one.first == one.last ? said(one.first) : fmt::format("{} to {}", said(one.first), said(one.last));
}

std::string TuneTelling::remark(const TuneInterval& one) const {
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

std::string TuneTelling::row(std::size_t row) const {
  std::vector<std::string> held;
  bool unknown = false;
  for (const TuneInterval& one : intervals_of(study_, row)) {
    if (one.standing == Standing::holds) held.push_back(interval(one));
    unknown = unknown || one.standing == Standing::undecided || one.standing == Standing::open;
  }
  return (held.empty() ? "none" : list_words(held)) + (unknown ? " (and some undecided)" : "");
}

std::vector<std::pair<std::string, std::string>> TuneTelling::table() const {
  const TuneAxis& axis = study_.axes[0];
  const auto said = [&](std::size_t at) {
    return dsl::value_text(axis.tunable, axis.values[at], model_.tick_us);
  };
  std::vector<std::pair<std::string, std::string>> rows{
      {axis.tunable.name, fmt::format("{} for which all claims hold", study_.axes[1].tunable.name)}};
  for (std::size_t first = 0; first < study_.grid.rows;) {
    const std::string held = row(first);
    std::size_t last = first;
    while (last + 1 < study_.grid.rows && row(last + 1) == held) ++last;
    rows.emplace_back(last == first ? said(first) : fmt::format("{} to {}", said(first), said(last)), held);
    first = last + 1;
  }
  return rows;
}

Span TuneTelling::edge(const solver::Edge& edge) const {
  return {fmt::format("Edge: all claims hold at {}, and not at {}.", point(edge.inside), point(edge.outside)),
          Style::strong};
}

Span TuneTelling::inside(const solver::Edge& edge, bool with_how) const {
  const auto possible = static_cast<std::size_t>(std::count_if(
      model_.claims.begin(), model_.claims.end(), [](const dsl::Claim& one) { return one.possible; }));
  const std::size_t safety = model_.claims.size() - possible;
  std::vector<std::string> parts;
  if (safety > 0) {
    const std::size_t together = study_.at(edge.inside).together;
    parts.push_back(count_words(safety, "claim") + " proved in every run of any length" +
                    (with_how && together > 1
                         ? fmt::format(" (with the value as an unknown, for {} at once)",
                                       count_words(together, study_.axes.size() == 2 ? "pair" : "value"))
                         : ""));
  }
  if (possible > 0) parts.push_back(count_words(possible, "claim") + " shown possible");
  return {fmt::format("{}: {}.", point(edge.inside), fmt::join(parts, ", ")), Style::good};
}

Span TuneTelling::outside(const solver::Edge& edge) const {
  const Standing standing = study_.at(edge.outside).standing;
  if (standing == Standing::fails) {
    const char* above = edge.outside == study_.grid.written ? " see above." : "";
    return {fmt::format("{}:{}", point(edge.outside), above), Style::bad};
  }
  const Span words = standing_words(standing);
  return {fmt::format("{}: {}, {}.", point(edge.outside), words.text,
                      remark({edge.outside, edge.outside, standing})),
          words.style};
}

Span TuneTelling::more_edges() const {
  return {fmt::format("There are {} more edges, which --format json tells.",
                      study_.edges.size() - study_.told.size()),
          Style::faint};
}

}  // namespace detent::cli
