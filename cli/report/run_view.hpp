// A run as it is shown and stepped through: story, rows of the diagram, and every signal's values.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "cli/compare_run.hpp"
#include "cli/page.hpp"
#include "cli/timing_layout.hpp"
#include "dsl/model.hpp"

namespace detent::cli::report {

/// From a tick on, until the next span.
struct ValueSpan {
  dsl::Value from = 0;
  dsl::Value value = 0;
  std::string words = {};  ///< "on", "35 %", "run"
};

struct SignalView {
  std::string name = {};
  bool condition = false;  ///< drawn as on or off; else in words
  bool level = false;      ///< a number, and so neither on nor off
  std::vector<ValueSpan> spans = {};
  [[nodiscard]] bool stays() const { return spans.size() == 1; }
};

/// All that is told of one tick.
struct StoryStep {
  dsl::Value tick = 0;
  std::string when = {};
  std::vector<std::string> sentences = {};
};

struct RunView {
  std::string id = {};     ///< of its own on the page
  std::string title = {};  ///< what is shown, for those who hear it
  std::int64_t tick_us = 0;
  dsl::Value ticks = 0;
  std::string mark = {};  ///< what happens in the last tick: "broken here"
  Style mark_style = Style::bad;
  std::vector<SignalView> signals = {};  ///< those of the model, by index
  std::vector<std::uint32_t> rows = {};  ///< drawn, in this order
  std::vector<Stretch> stretches = {};   ///< columns of the diagram, in characters
  std::size_t columns = 0;               ///< all together
  std::vector<StoryStep> story = {};
  std::vector<dsl::Value> events = {};  ///< ticks in which anything changes, the first and the last included
  std::vector<std::uint32_t> bearing = {};  ///< signals that the run's end depends on, now or through time
  bool in_picture = false;                  ///< the signals are those of the page's picture
};

/// `id` must be its own on the page.
[[nodiscard]] RunView view_run(const SharedRun& shared, const std::string& id, const std::string& title);

}  // namespace detent::cli::report
