// Warnings. None of them changes a verdict; each names the place to look at.
#include "cli/warning_text.hpp"

#include <fmt/format.h>

#include "cli/errors_text.hpp"
#include "cli/story.hpp"
#include "cli/words.hpp"
#include "solver/interpreter.hpp"

namespace detent::cli {
namespace {

using dsl::Model;

/// Each comes with a story; on a page, more would hide what else there is to say.
constexpr std::size_t most_overlaps_shown = 20;

void add_head(Page& page, const std::string& text, const Terminal& terminal) {
  if (!page.empty()) page.push_back({});
  add_paragraph(page, "warning: ", text, terminal, Style::unsure);
}

Finding overlap_finding(const CheckResult& result, const solver::OverlapFinding& finding) {
  const dsl::Sources& sources = result.compiled.sources;
  const dsl::Overlap& overlap = result.compiled.model->overlaps[finding.overlap];
  return {
      .kind = "overlap",
      .title = "Two lines of a stages can apply at once",
      .words = fmt::format("two lines of '{}' can apply at once: '{}' ({}) and '{}' ({}); the first one wins",
                           overlap.stages, overlap.first_text, line_words(sources, overlap.first),
                           overlap.second_text, line_words(sources, overlap.second)),
      .place = overlap.first,
      .other = overlap.second,
      .overlap = &finding};
}

Finding never_changes_finding(const CheckResult& result, const dsl::Signal& signal) {
  const std::string reach =
      result.bound ? " of up to " + ticks_words(result.report->within, result.compiled.model->tick_us)
                   : ", however long";
  return {.kind = "never-changes",
          .title = "A signal has one value in every run",
          .words = fmt::format("'{}' ({}) never changes in any run{}", signal.name,
                               line_words(result.compiled.sources, signal.place), reach),
          .place = signal.place};
}

Finding too_short_finding(const CheckResult& result) {
  const Model& model = *result.compiled.model;
  return {
      .kind = "too-short",
      .title = "The longest time in the design does not fit into what was looked at",
      .words = fmt::format("the longest time in the design, {}, does not fit into the {} that are looked "
                           "at: what happens only after it was not checked (--within asks for more ticks)",
                           ticks_words(model.longest_time, model.tick_us),
                           ticks_words(result.bound->ticks, model.tick_us)),
      .place = {static_cast<std::uint32_t>(result.compiled.sources.size()), 0, 0}};
}

void add_findings(Page& page, const CheckResult& result, const Terminal& terminal) {
  const Model& model = *result.compiled.model;
  std::size_t overlaps = 0;
  const auto add_rest = [&] {
    if (overlaps <= most_overlaps_shown) return;
    add_head(page,
             fmt::format("{} more pairs of lines can apply at once; see them with --format json",
                         overlaps - most_overlaps_shown),
             terminal);
    overlaps = 0;
  };
  for (const Finding& finding : findings(result)) {
    if (finding.overlap == nullptr) add_rest();
    if (finding.overlap != nullptr && ++overlaps > most_overlaps_shown) continue;
    add_head(page, finding.words, terminal);
    if (finding.overlap == nullptr) continue;
    const StoryWishes story{.about = model.overlaps[finding.overlap->overlap].both,
                            .ending = "Here both apply."};
    add_page(page, story_page(tell(model, solver::replay(model.circuit, *finding.overlap->run), story),
                              "    ", terminal));
  }
  add_rest();
}

}  // namespace

std::vector<Finding> findings(const CheckResult& result) {
  const Model& model = *result.compiled.model;
  std::vector<Finding> all;
  if (result.bound && !reaches_longest_time(model, result.bound->ticks))
    all.push_back(too_short_finding(result));
  for (const solver::OverlapFinding& finding : result.report->overlaps) {
    if (finding.run) all.push_back(overlap_finding(result, finding));
  }
  for (const std::uint32_t index : result.report->never_change) {
    // What cannot change by its wording was told when the text was read.
    const dsl::Signal& signal = model.signals[index];
    if (!model.circuit.is_constant(signal.node)) all.push_back(never_changes_finding(result, signal));
  }
  return all;
}

Page warnings_page(const CheckResult& result, const Terminal& terminal) {
  Page page;
  // A text that was checked has no errors.
  add_diagnostics(page, result.compiled.diagnostics, result.compiled.sources, terminal);
  if (result.report && result.compiled.model) add_findings(page, result, terminal);
  return page;
}

}  // namespace detent::cli
