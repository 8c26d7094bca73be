// Where the designs part comes first: that is what one compares for.
#include "cli/compare_text.hpp"

#include <fmt/format.h>

#include <optional>

#include "cli/compare_figures.hpp"
#include "cli/compare_run.hpp"
#include "cli/compare_words.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::side_a;
using dsl::side_b;
using solver::Outcome;
using solver::SignalAnswer;

constexpr const char* indent = "    ";

void add_words(Page& page, const std::string& first, const Span& words, const Terminal& terminal) {
  add_paragraph(page, first, words.text, terminal, words.style);
}

// ---- Head ----

void add_head(Page& page, const CompareResult& result, const Terminal& terminal) {
  for (const std::size_t side : {side_a, side_b}) {
    const std::string& title = result.model(side).title;
    page.push_back({{fmt::format("{}: ", side_letter(side))},
                    {result.compiled[side].sources.name(0), Style::strong},
                    {title.empty() ? "" : fmt::format(" \"{}\"", title)}});
  }
  add_paragraph(page, "", compare_reach_words(result), terminal, Style::faint);
  for (const MatchLine& line : match_lines(result)) {
    add_words(page, fmt::format("  {}: ", line.what), line.words, terminal);
  }
}

// ---- Signals ----

void add_run(Page& page, std::optional<SharedRun> run, const std::string& margin, const CompareWishes& wishes,
             const Terminal& terminal) {
  if (!run || wishes.brief) return;
  run->all_signals = wishes.all_signals;
  add_page(page, shared_run_page(*run, margin, terminal));
}

void add_signals(Page& page, const CompareResult& result, const CompareWishes& wishes,
                 const Terminal& terminal) {
  for (const SignalAnswer* answer : not_the_same(result)) {
    const bool parts = answer->any(Outcome::shown);
    page.push_back({});
    page.push_back({{parts ? "THEY PART" : "undecided", parts ? Style::bad : Style::unsure},
                    {"  "},
                    {compared_name(result, *answer), Style::strong}});
    for (std::size_t way = 0; way < answer->partings.size(); ++way) {
      add_words(page, "  ", parting_words(result, *answer, way), terminal);
      add_run(page, parting_run(result, *answer, way), indent, wishes, terminal);
    }
  }
  const std::vector<std::string> same = names_of_the_same(result);
  if (same.empty()) return;
  page.push_back({});
  add_paragraph(page, "Proved the same in every run of any length: ", list_words(same), terminal,
                Style::good);
}

// ---- Claims ----

void add_claim(Page& page, const CompareResult& result, std::size_t row, const CompareWishes& wishes,
               const Terminal& terminal) {
  const ComparedClaim& claim = result.claims[row];
  const std::string wording =
      claim.worded_by ? fmt::format(" (as {} words it)", side_letter(*claim.worded_by)) : "";
  page.push_back({{"  " + claim.name, Style::strong}, {wording}});
  const Span a = claim_answer_words(result, row, side_a);
  const Span b = claim_answer_words(result, row, side_b);
  if (a.text == b.text) {
    add_words(page, std::string(indent) + "A and B: ", a, terminal);
  } else {
    add_words(page, std::string(indent) + "A: ", a, terminal);
    add_words(page, std::string(indent) + "B: ", b, terminal);
  }
  if (wishes.brief || !answers_differ(result, row)) return;
  for (const std::size_t side : {side_a, side_b}) {
    std::optional<SharedRun> run = claim_run(result, row, side);
    if (!run) continue;
    page.push_back({});
    add_run(page, std::move(run), std::string(indent) + indent, wishes, terminal);
  }
}

void add_claims(Page& page, const CompareResult& result, const CompareWishes& wishes,
                const Terminal& terminal) {
  if (result.claims.empty()) return;
  page.push_back({});
  page.push_back({{"Claims", Style::strong}, {", asked of both"}});
  for (std::size_t row = 0; row < result.claims.size(); ++row) add_claim(page, result, row, wishes, terminal);
}

// ---- End ----

void add_end(Page& page, const CompareResult& result, const Terminal& terminal) {
  page.push_back({});
  for (const Span& one : compare_summary_words(result)) add_words(page, "", one, terminal);
  add_paragraph(page, "", "A proof is about the model, not the wiring: blade or propeller off on the bench.",
                terminal);
}

}  // namespace

Page compare_page(const CompareResult& result, const CompareWishes& wishes, const Terminal& terminal) {
  Page page;
  add_head(page, result, terminal);
  add_signals(page, result, wishes, terminal);
  add_claims(page, result, wishes, terminal);
  if (wishes.figures) {
    page.push_back({});
    add_page(page, figures_page(result, wishes, terminal));
  }
  if (wishes.statistics) {
    const solver::Statistics& statistics = result.comparison->statistics;
    page.push_back({});
    page.push_back({{fmt::format("{} to the solver, {} replayed, {:.2f} s",
                                 count_words(statistics.solver_calls, "question"),
                                 count_words(statistics.replayed_runs, "run"), statistics.seconds)}});
  }
  add_end(page, result, terminal);
  return page;
}

}  // namespace detent::cli
