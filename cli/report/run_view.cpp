#include "cli/report/run_view.hpp"

#include <set>

#include "cli/moments.hpp"
#include "cli/relevance.hpp"
#include "cli/story.hpp"
#include "cli/words.hpp"
#include "solver/interpreter.hpp"

namespace detent::cli::report {
namespace {

using dsl::Model;
using dsl::Signal;
using dsl::Value;
using solver::Trace;

/// A page can be scrolled, so that no moment need be cut.
constexpr std::size_t any_width = 1'000'000;

SignalView view_signal(const Signal& signal, const Trace& trace) {
  SignalView view{.name = is_link(signal) ? signal.name + " lost" : signal.name,
                  .condition = signal.sort.kind == dsl::SortKind::condition,
                  .level = signal.sort.kind == dsl::SortKind::level};
  for (const Trace::Moment& moment : trace.moments()) {
    const Value value = moment.values[signal.node];
    if (!view.spans.empty() && view.spans.back().value == value) continue;
    view.spans.push_back({static_cast<Value>(moment.tick), value, dsl::to_text(value, signal.sort)});
  }
  return view;
}

std::vector<StoryStep> steps_of(const std::vector<StoryLine>& lines) {
  std::vector<StoryStep> steps;
  for (const StoryLine& line : lines) {
    if (steps.empty() || !line.when.empty()) steps.push_back({line.tick, line.when});
    steps.back().sentences.push_back(line.text);
  }
  return steps;
}

/// A slow movement counts twice: where it begins and where it ends.
std::vector<Value> events_of(const Model& model, const Trace& trace) {
  std::vector<std::uint32_t> all;
  for (std::uint32_t index = 0; index < model.signals.size(); ++index) all.push_back(index);
  std::set<Value> ticks{0, static_cast<Value>(trace.ticks()) - 1};
  for (const Moment& moment : find_moments(model, trace, all)) {
    ticks.insert(moment.tick);
    ticks.insert(moment.until);
  }
  return {ticks.begin(), ticks.end()};
}

std::vector<std::uint32_t> signals_in_cone(const Model& model, dsl::NodeId about) {
  const std::vector<bool> inside = cone(model.circuit, about);
  std::vector<std::uint32_t> signals;
  for (std::uint32_t index = 0; index < model.signals.size(); ++index) {
    if (inside[model.signals[index].node]) signals.push_back(index);
  }
  return signals;
}

}  // namespace

RunView view_run(const SharedRun& shared, const std::string& id, const std::string& title) {
  const Model& model = shared.model;
  const Trace trace = solver::replay(model.circuit, shared.run);
  const dsl::Claim claim = claim_about(shared);
  RunView view{.id = id,
               .title = title,
               .tick_us = model.tick_us,
               .ticks = static_cast<Value>(trace.ticks()),
               .mark = shared.mark,
               .mark_style = shared.mark_style};
  for (const Signal& signal : model.signals) view.signals.push_back(view_signal(signal, trace));
  view.rows = shown_signals(model, trace, claim, shared.all_signals);
  const Layout layout = lay_out(model, trace, view.rows, any_width, true);
  view.stretches = layout.stretches;
  view.columns = layout.width;
  view.story = steps_of(tell(model, trace,
                             {.about = shared.about,
                              .names = mentioned(model, trace, claim),
                              .ending = shared.ending,
                              .all_signals = shared.all_signals}));
  view.events = events_of(model, trace);
  view.bearing = signals_in_cone(model, shared.about);
  return view;
}

}  // namespace detent::cli::report
