// Head, one block a claim, warnings, summary, and the one caution that no check can do without.
#include "cli/report_text.hpp"

#include <fmt/format.h>

#include "cli/heading.hpp"

#include "cli/warning_text.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

void add_head(Page& page, const CheckResult& result, const Terminal& terminal) {
  page.push_back(heading_of(result.compiled));
  add_paragraph(page, "", reach_words(result), terminal, Style::faint);
}

void add_statistics(Page& page, const solver::Statistics& statistics) {
  page.push_back({});
  page.push_back({{fmt::format(
      "{} to the solver, {} replayed, {} unrolled, {:.2f} s",
      count_words(statistics.solver_calls, "question"), count_words(statistics.replayed_runs, "run"),
      count_words(static_cast<std::size_t>(statistics.unrolled_ticks), "tick"), statistics.seconds)}});
}

void add_end(Page& page, const CheckResult& result, const Terminal& terminal) {
  page.push_back({});
  add_paragraph(page, "", summary_words(*result.compiled.model, *result.report), terminal,
                style_of(status_of(result)));
  add_paragraph(page, "", "A proof is about the model, not the wiring: blade or propeller off on the bench.",
                terminal);
}

}  // namespace

std::string reach_words(const CheckResult& result) {
  if (!result.bound) return fmt::format("Looked at: every run, of any length{}.", result.allowed);
  return fmt::format("Looked at: every run of up to {}; {}.",
                     ticks_words(result.bound->ticks, result.compiled.model->tick_us), result.bound->reason);
}

Style style_of(Status status) {
  switch (status) {
    case Status::all_hold:
      return Style::good;
    case Status::undecided:
      return Style::unsure;
    default:
      return Style::bad;
  }
}

Page report_page(const CheckResult& result, const ReportWishes& wishes, const Terminal& terminal) {
  const dsl::Model& model = *result.compiled.model;
  Page page;
  add_head(page, result, terminal);
  for (const solver::Verdict& verdict : result.report->verdicts) {
    page.push_back({});
    add_page(page, verdict_block(model, result.compiled.sources, verdict, wishes.block, terminal));
  }
  if (const Page warnings = warnings_page(result, terminal); !warnings.empty()) {
    page.push_back({});
    add_page(page, warnings);
  }
  if (wishes.statistics) add_statistics(page, result.report->statistics);
  add_end(page, result, terminal);
  return page;
}

}  // namespace detent::cli
