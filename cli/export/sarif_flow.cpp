#include "cli/export/sarif_flow.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "cli/breakage.hpp"
#include "cli/export/sarif_place.hpp"
#include "cli/relevance.hpp"
#include "cli/story.hpp"
#include "cli/words.hpp"
#include "solver/interpreter.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using solver::Trace;

struct Step {
  Value tick = 0;
  std::string text;
};

/// The lines of a story that belong to one moment, as one.
std::vector<Step> steps_of(const Model& model, const dsl::Claim& claim, const Trace& trace) {
  const StoryWishes wishes{.about = claim.watch,
                           .names = mentioned(model, trace, claim),
                           .ending = break_words(model, claim, trace)};
  std::vector<Step> steps;
  for (const StoryLine& line : tell(model, trace, wishes)) {
    if (!line.when.empty() || steps.empty()) {
      steps.push_back({line.tick, line.when + ": " + line.text});
    } else {
      steps.back().text += " " + line.text;
    }
  }
  return steps;
}

class Flow {
 public:
  Flow(const dsl::Compiled& compiled, const dsl::Claim& claim, const solver::Run& run)
      : compiled_(compiled),
        model_(*compiled.model),
        claim_(claim),
        trace_(solver::replay(model_.circuit, run)),
        shown_(shown_signals(model_, trace_, claim, false)) {}

  Json write() {
    const std::vector<Step> steps = steps_of(model_, claim_, trace_);
    Json locations = Json::array();
    for (std::size_t index = 0; index < steps.size(); ++index) {
      locations.push_back(location(steps[index], index, index + 1 == steps.size()));
    }
    const std::string length =
        fmt::format("A run of {}.", ticks_words(static_cast<Value>(trace_.ticks()), model_.tick_us));
    return {{"message", sarif_message(length)},
            {"threadFlows", {{{"id", claim_.name}, {"locations", std::move(locations)}}}}};
  }

 private:
  Json location(const Step& step, std::size_t index, bool last) const {
    Json json{{"location", place(step, last)},
              {"state", state(static_cast<std::size_t>(step.tick))},
              {"executionOrder", index + 1},
              {"importance", last ? "essential" : "important"},
              {"properties", {{"tick", step.tick}, {"us", step.tick * model_.tick_us}}}};
    return json;
  }

  Json place(const Step& step, bool last) const {
    if (!last) {
      for (const std::uint32_t index : shown_) {
        const dsl::Signal& signal = model_.signals[index];
        if (!moves(signal, static_cast<std::size_t>(step.tick))) continue;
        if (auto found = sarif_location(compiled_.sources, signal.place, step.text)) return *found;
      }
    }
    return sarif_location(compiled_.sources, claim_.place, step.text)
        .value_or(Json{{"message", sarif_message(step.text)}});
  }

  bool moves(const dsl::Signal& signal, std::size_t tick) const {
    return tick == 0 || trace_.at(tick, signal.node) != trace_.at(tick - 1, signal.node);
  }

  Json state(std::size_t tick) const {
    Json values = Json::object();
    for (const std::uint32_t index : shown_) {
      const dsl::Signal& signal = model_.signals[index];
      values[signal.name] = sarif_message(dsl::to_text(trace_.at(tick, signal.node), signal.sort));
    }
    return values;
  }

  const dsl::Compiled& compiled_;
  const Model& model_;
  const dsl::Claim& claim_;
  Trace trace_;
  std::vector<std::uint32_t> shown_;
};

}  // namespace

Json sarif_flow(const dsl::Compiled& compiled, const dsl::Claim& claim, const solver::Run& run) {
  return Flow(compiled, claim, run).write();
}

}  // namespace detent::cli
