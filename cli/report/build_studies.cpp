#include <fmt/format.h>

#include <utility>

#include "cli/compare_figures.hpp"
#include "cli/compare_words.hpp"
#include "cli/fault_summary.hpp"
#include "cli/faults_words.hpp"
#include "cli/gaps_words.hpp"
#include "cli/report/build.hpp"
#include "cli/tune_words.hpp"
#include "cli/words.hpp"

namespace detent::cli::report {
namespace {

void add_all(std::vector<Block>& blocks, const std::vector<Span>& sentences) {
  blocks.insert(blocks.end(), sentences.begin(), sentences.end());
}

// ---- Tuning ----

Strip strip_of(const TuneStudy& study, const TuneTelling& telling, std::int64_t tick_us) {
  const TuneAxis& axis = study.axes.front();
  const auto all = static_cast<double>(axis.values.size());
  const auto said = [&](dsl::Value value) { return dsl::value_text(axis.tunable, value, tick_us); };
  Strip strip{.name = axis.tunable.name,
              .parts = {},
              .written = (static_cast<double>(axis.written) + 0.5) / all,
              .written_words = "written: " + said(axis.tunable.written),
              .low = said(axis.values.front()),
              .high = said(axis.values.back())};
  for (const TuneInterval& one : intervals_of(study, 0)) {
    const Span words = standing_words(one.standing);
    strip.parts.push_back({static_cast<double>(one.last - one.first + 1) / all, words.style,
                           telling.interval(one) + " " + words.text});
  }
  return strip;
}

Table intervals_table(const TuneStudy& study, const TuneTelling& telling) {
  const std::string& name = study.axes.front().tunable.name;
  Table table{.caption = "Values of " + name, .head = {name, "all claims", "which values, and what breaks"}};
  for (const TuneInterval& one : intervals_of(study, 0)) {
    table.rows.push_back(
        {{{telling.interval(one)}}, {standing_words(one.standing)}, {{telling.remark(one)}}});
  }
  return table;
}

void add_study(Section& section, const TuneResult& result, const TuneStudy& study) {
  const TuneTelling telling(result.compiled, study);
  const TuneAxis& axis = study.axes.front();
  section.blocks.push_back(Heading{axis.tunable.name});
  if (!axis.tunable.doc.empty()) section.blocks.push_back(Span{fmt::format("\"{}\"", axis.tunable.doc)});
  section.blocks.push_back(Span{telling.axis(axis), Style::faint});
  add_all(section.blocks, telling.answer());
  section.blocks.push_back(strip_of(study, telling, result.compiled.model->tick_us));
  section.blocks.push_back(intervals_table(study, telling));
  add_all(section.blocks, telling.vacuous());
}

// ---- Comparing ----

Cell answer_cell(Span words) {
  return {std::move(words)};
}

Table claims_table(const CompareResult& result) {
  Table table{.caption = "Claims, asked of both", .head = {"claim", "A", "B"}};
  for (std::size_t row = 0; row < result.claims.size(); ++row) {
    const ComparedClaim& claim = result.claims[row];
    const std::string wording =
        claim.worded_by ? fmt::format(" (as {} words it)", side_letter(*claim.worded_by)) : "";
    table.rows.push_back({{{claim.name + wording}},
                          answer_cell(claim_answer_words(result, row, dsl::side_a)),
                          answer_cell(claim_answer_words(result, row, dsl::side_b))});
  }
  return table;
}

Table figures_table(const CompareResult& result) {
  Table table{.caption = "Figures, each proved the best there is unless it says otherwise",
              .head = {"figure", "A", "B"}};
  const auto& figures = result.comparison->figures;
  for (std::size_t index = 0; index < figures[dsl::side_a].size(); ++index) {
    table.rows.push_back({{{figure_name(figures[dsl::side_a][index].kind)}},
                          answer_cell(figure_answer(result, figures[dsl::side_a][index], dsl::side_a)),
                          answer_cell(figure_answer(result, figures[dsl::side_b][index], dsl::side_b))});
  }
  return table;
}

void add_run(Section& section, std::optional<SharedRun> run, const std::string& title,
             const BuildWishes& wishes) {
  if (!run) return;
  run->all_signals = wishes.all_signals;
  section.blocks.push_back(
      view_run(*run, fmt::format("{}-run-{}", section.id, section.blocks.size()), title));
}

void add_partings(Section& section, const CompareResult& result, const BuildWishes& wishes) {
  for (const solver::SignalAnswer* answer : not_the_same(result)) {
    const bool parts = answer->any(solver::Outcome::shown);
    const std::string name = compared_name(result, *answer);
    section.blocks.push_back(Heading{(parts ? "They part: " : "Undecided: ") + name});
    for (std::size_t way = 0; way < answer->partings.size(); ++way) {
      const Span words = parting_words(result, *answer, way);
      section.blocks.push_back(words);
      add_run(section, parting_run(result, *answer, way), name + ", " + words.text, wishes);
    }
  }
  const std::vector<std::string> same = names_of_the_same(result);
  if (same.empty()) return;
  section.blocks.push_back(
      Span{fmt::format("Proved the same in every run of any length: {}.", list_words(same)), Style::good});
}

void add_claims(Section& section, const CompareResult& result, const BuildWishes& wishes) {
  if (result.claims.empty()) return;
  section.blocks.push_back(Heading{"Claims"});
  section.blocks.push_back(claims_table(result));
  for (std::size_t row = 0; row < result.claims.size(); ++row) {
    if (!answers_differ(result, row)) continue;
    for (const std::size_t side : {dsl::side_a, dsl::side_b}) {
      add_run(section, claim_run(result, row, side),
              fmt::format("{} in {}", result.claims[row].name, side_letter(side)), wishes);
    }
  }
}

// ---- Faults ----

Table fault_table(const dsl::Model& model, const FaultStudy& study, const std::vector<FaultCase>& cases,
                  const std::string& caption) {
  const std::vector<std::uint32_t> safety = safety_claims(model, study);
  Table table{.caption = caption, .head = {"fault"}, .narrow_cells = true};
  for (const std::uint32_t claim : safety) table.head.push_back(model.claims[claim].name);
  for (const FaultCase& one : cases) {
    std::vector<Cell> row{{{fault_words(study, one)}}};
    for (const std::uint32_t claim : safety) {
      Span words = fault_cell_words(model, one, claim);
      const bool holds = words.text.empty();
      if (holds) words.text = "·";
      row.push_back({.words = std::move(words), .spoken = holds ? "still proved" : ""});
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

// ---- Gaps ----

Table gap_table(const dsl::Compiled& compiled, const GapStudy& study, Slip::Fate fate) {
  Table table{.caption = fate_words(fate).text, .head = {"change", "line"}};
  for (const Slip& slip : study.slips) {
    if (slip.fate != fate) continue;
    table.rows.push_back({{{slip.what.name}},
                          {{line_words(compiled.sources, slip.what.place), Style::faint},
                           link_to(compiled.sources, slip.what.place)}});
  }
  return table;
}

}  // namespace

Section section_of(const CompareResult& result, const BuildWishes& wishes) {
  Section section{.id = "compare", .title = "Compared with another design", .short_title = "Compared"};
  for (const std::size_t side : {dsl::side_a, dsl::side_b}) {
    section.blocks.push_back(
        Span{fmt::format("{}: {} \"{}\"", side_letter(side), result.compiled[side].sources.name(0),
                         result.model(side).title)});
  }
  section.blocks.push_back(Span{compare_reach_words(result), Style::faint});
  add_all(section.blocks, compare_summary_words(result));
  for (const MatchLine& line : match_lines(result)) {
    section.blocks.push_back(Span{fmt::format("{}: {}", line.what, line.words.text), line.words.style});
  }
  add_partings(section, result, wishes);
  add_claims(section, result, wishes);
  section.blocks.push_back(Heading{"Figures"});
  for (const auto& [name, words] : figure_conditions(result)) {
    section.blocks.push_back(Span{name + " " + words, Style::faint});
  }
  section.blocks.push_back(figures_table(result));
  return section;
}

Section section_of(const TuneResult& result) {
  Section section{.id = "tune", .title = "Which values hold", .short_title = "Values"};
  section.blocks.push_back(Span{tune_reach_words(result), Style::faint});
  for (const TuneStudy& study : result.studies) add_study(section, result, study);
  return section;
}

Section section_of(const dsl::Compiled& compiled, const FaultStudy& study, const std::string& allowed) {
  Section section{.id = "faults", .title = "When something breaks", .short_title = "Faults"};
  add_all(section.blocks, faults_reach_words(study, allowed));
  add_all(section.blocks, not_looked_at_words(*compiled.model, study));
  section.blocks.push_back(
      fault_table(*compiled.model, study, study.singles,
                  "Single faults, and when a claim breaks; a dot is a claim that is still "
                  "proved"));
  add_all(section.blocks, nuisance_words(*compiled.model, study));
  add_all(section.blocks, faults_summary_words(*compiled.model, study));
  return section;
}

Section section_of(const dsl::Compiled& compiled, const GapStudy& study, const std::string& allowed) {
  Section section{.id = "gaps", .title = "What nobody watches", .short_title = "Gaps"};
  section.blocks.push_back(gaps_reach_words(study, allowed));
  add_all(section.blocks, claims_that_notice_nothing(*compiled.model, study));
  for (const Slip::Fate fate : told_fates) {
    if (count_of(study, fate) > 0) section.blocks.push_back(gap_table(compiled, study, fate));
  }
  add_all(section.blocks, gap_remarks(compiled, study));
  section.blocks.push_back(gaps_summary_words(study));
  section.blocks.push_back(Span{gap_caution()});
  return section;
}

}  // namespace detent::cli::report
