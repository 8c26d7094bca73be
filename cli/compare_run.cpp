#include "cli/compare_run.hpp"

#include "cli/relevance.hpp"
#include "cli/story.hpp"
#include "cli/timing.hpp"
#include "solver/interpreter.hpp"

namespace detent::cli {

dsl::Claim claim_about(const SharedRun& shared) {
  dsl::Claim claim;
  claim.watch = shared.about;
  claim.first.node = shared.about;
  claim.first.mentions = shared.names;
  return claim;
}

Page shared_run_page(const SharedRun& shared, const std::string& indent, const Terminal& terminal) {
  const solver::Trace trace = solver::replay(shared.model.circuit, shared.run);
  const dsl::Claim claim = claim_about(shared);
  const StoryWishes story{.about = shared.about,
                          .names = mentioned(shared.model, trace, claim),
                          .ending = shared.ending,
                          .all_signals = shared.all_signals};
  Page page = story_page(tell(shared.model, trace, story), indent, terminal);
  if (shared.mark.empty() || trace.ticks() == 1) return page;
  const DiagramWishes diagram{.signals = shown_signals(shared.model, trace, claim, shared.all_signals),
                              .mark = shared.mark,
                              .mark_style = shared.mark_style,
                              .indent = indent};
  page.push_back({});
  add_page(page, timing_diagram(shared.model, trace, diagram, terminal));
  return page;
}

}  // namespace detent::cli
