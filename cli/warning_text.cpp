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

void add_overlap(Page& page, const CheckResult& result, const solver::OverlapFinding& finding,
                 const Terminal& terminal) {
  const Model& model = *result.compiled.model;
  const dsl::Sources& sources = result.compiled.sources;
  const dsl::Overlap& overlap = model.overlaps[finding.overlap];
  add_head(page,
           fmt::format("two lines of '{}' can apply at once: '{}' ({}) and '{}' ({}); the first one wins",
                       overlap.stages, overlap.first_text, line_words(sources, overlap.first),
                       overlap.second_text, line_words(sources, overlap.second)),
           terminal);
  const StoryWishes story{.about = overlap.both, .ending = "Here both apply."};
  add_page(page,
           story_page(tell(model, solver::replay(model.circuit, *finding.run), story), "    ", terminal));
}

void add_never_changes(Page& page, const CheckResult& result, std::uint32_t index, const Terminal& terminal) {
  const Model& model = *result.compiled.model;
  const dsl::Signal& signal = model.signals[index];
  const std::string reach =
      result.bound ? " of up to " + ticks_words(result.report->within, model.tick_us) : ", however long";
  add_head(page,
           fmt::format("'{}' ({}) never changes in any run{}", signal.name,
                       line_words(result.compiled.sources, signal.place), reach),
           terminal);
}

void add_too_short(Page& page, const CheckResult& result, const Terminal& terminal) {
  const Model& model = *result.compiled.model;
  add_head(
      page,
      fmt::format("the longest time in the design, {}, does not fit into the {} that are looked at: what "
                  "happens only after it was not checked (--within asks for more ticks)",
                  ticks_words(model.longest_time, model.tick_us),
                  ticks_words(result.bound->ticks, model.tick_us)),
      terminal);
}

void add_findings(Page& page, const CheckResult& result, const Terminal& terminal) {
  const Model& model = *result.compiled.model;
  if (result.bound && !reaches_longest_time(model, result.bound->ticks))
    add_too_short(page, result, terminal);
  std::size_t overlaps = 0;
  for (const solver::OverlapFinding& finding : result.report->overlaps) {
    if (finding.run && ++overlaps <= most_overlaps_shown) add_overlap(page, result, finding, terminal);
  }
  if (overlaps > most_overlaps_shown) {
    add_head(page,
             fmt::format("{} more pairs of lines can apply at once; see them with --format json",
                         overlaps - most_overlaps_shown),
             terminal);
  }
  for (const std::uint32_t index : result.report->never_change) {
    // What cannot change by its wording was told when the text was read.
    if (!model.circuit.is_constant(model.signals[index].node))
      add_never_changes(page, result, index, terminal);
  }
}

}  // namespace

Page warnings_page(const CheckResult& result, const Terminal& terminal) {
  Page page;
  // A text that was checked has no errors.
  add_diagnostics(page, result.compiled.diagnostics, result.compiled.sources, terminal);
  if (result.report && result.compiled.model) add_findings(page, result, terminal);
  return page;
}

}  // namespace detent::cli
