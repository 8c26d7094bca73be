// A log that waits for its outputs (cli/formats.md): the hands' columns are filled in, those for what is seen
// are empty, and what is expected stands in columns of its own, which `detent replay` does not look at. The
// cautions stand in the notes of the first row and the last, so that the file stays one that every reader of
// tables can read.
#include <fmt/format.h>

#include "cli/csv_writer.hpp"
#include "cli/drill_report.hpp"
#include "cli/log_text.hpp"
#include "cli/player.hpp"

namespace detent::cli {
namespace {

class Table {
 public:
  Table(const DrillReport& report, std::size_t round, bool filled)
      : study_(report.study), model_(report.study.model), sheet_(report.sheet[round]), filled_(filled) {
    for (const std::uint32_t signal : log_signals(model_)) {
      if (model_.signals[signal].role == dsl::SignalRole::hand) hands_.push_back(signal);
    }
  }

  std::string make() {
    std::string text = csv_row(header());
    std::vector<std::string> before;
    play(model_, sheet_.hands, [&](const std::vector<Value>& values, Value tick, Value count) {
      std::vector<std::string> cells = cells_of(values);
      if (cells != before || tick == 0) text += row(tick, cells);
      const Value last = tick + count - 1;
      if (last + 1 == sheet_.hands.ticks && (last > tick || cells == before)) text += row(last, cells);
      before = std::move(cells);
      return true;
    });
    return text;
  }

 private:
  std::vector<std::string> header() const {
    std::vector<std::string> fields{log_time_header};
    for (const std::uint32_t signal : hands_) fields.push_back(log_header(model_.signals[signal]));
    for (const std::uint32_t signal : study_.shown) fields.push_back(log_header(model_.signals[signal]));
    for (const std::uint32_t signal : study_.shown) {
      fields.push_back(fmt::format("expected {}", log_header(model_.signals[signal])));
    }
    fields.emplace_back("step");
    fields.emplace_back("note");
    return fields;
  }

  std::vector<std::string> cells_of(const std::vector<Value>& values) const {
    std::vector<std::string> cells;
    for (const auto* signals : {&hands_, &study_.shown}) {
      for (const std::uint32_t signal : *signals) {
        cells.push_back(log_cell(model_.signals[signal], values[model_.signals[signal].node]));
      }
    }
    return cells;
  }

  std::string row(Value tick, const std::vector<std::string>& cells) {
    std::vector<std::string> fields{log_time(tick, model_.tick_us)};
    const auto expected = cells.begin() + static_cast<std::ptrdiff_t>(hands_.size());
    fields.insert(fields.end(), cells.begin(), expected);
    for (auto cell = expected; cell != cells.end(); ++cell) fields.push_back(filled_ ? *cell : "");
    fields.insert(fields.end(), expected, cells.end());
    while (step_ + 1 < sheet_.steps.size() && sheet_.steps[step_ + 1].tick <= tick) ++step_;
    const DrillStep& step = sheet_.steps[step_];
    fields.push_back(fmt::format("{}", step_));
    fields.push_back(note(step, tick));
    return csv_row(fields);
  }

  [[nodiscard]] std::string note(const DrillStep& step, Value tick) const {
    if (tick == 0) return "blade or propeller off; power on";
    if (tick + 1 == sheet_.hands.ticks)
      return "power off before blade or propeller go on; this is about the model, not the wiring";
    if (tick > step.until) return "look";
    if (step.many_hands) return "several things in one moment: a person can't do that for sure";
    if (step.hasty) return "less than 200 ms after the step before: a person can't do that for sure";
    return step.exact ? "move; the moment counts to 0.1 s" : "move";
  }

  const DrillStudy& study_;
  const dsl::Model& model_;
  const SheetRound& sheet_;
  bool filled_;
  std::vector<std::uint32_t> hands_;
  std::size_t step_ = 0;
};

}  // namespace

std::string drill_csv(const DrillReport& report, std::size_t round, bool filled) {
  return Table(report, round, filled).make();
}

}  // namespace detent::cli
