#include "cli/log_text.hpp"

#include "cli/csv_writer.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Signal;

std::vector<std::string> header(const Model& model, const std::vector<std::uint32_t>& signals) {
  std::vector<std::string> fields{log_time_header};
  for (const std::uint32_t index : signals) fields.push_back(log_header(model.signals[index]));
  return fields;
}

}  // namespace

std::vector<std::uint32_t> log_signals(const Model& model) {
  std::vector<std::uint32_t> signals;
  for (const dsl::SignalRole role : {dsl::SignalRole::hand, dsl::SignalRole::output}) {
    for (std::uint32_t index = 0; index < model.signals.size(); ++index) {
      if (model.signals[index].role == role) signals.push_back(index);
    }
  }
  return signals;
}

std::string log_header(const Signal& signal) {
  const bool has_unit = signal.sort.kind == dsl::SortKind::level && !signal.sort.unit.empty();
  return has_unit ? signal.name + " " + signal.sort.unit : signal.name;
}

std::string log_cell(const Signal& signal, Value value) {
  dsl::Sort bare = signal.sort;
  bare.unit.clear();
  return dsl::to_text(value, bare);
}

std::string log_time(Value tick, std::int64_t tick_us) {
  return seconds_number(tick, tick_us);
}

std::string log_text(const Model& model, const HandRun& run) {
  const std::vector<std::uint32_t> signals = log_signals(model);
  std::string text = csv_row(header(model, signals));
  std::vector<std::string> before;
  play(model, run, [&](const std::vector<Value>& values, Value tick, Value count) {
    std::vector<std::string> cells;
    for (const std::uint32_t index : signals) {
      cells.push_back(log_cell(model.signals[index], values[model.signals[index].node]));
    }
    const auto row = [&](Value when) {
      std::vector<std::string> fields{log_time(when, model.tick_us)};
      fields.insert(fields.end(), cells.begin(), cells.end());
      text += csv_row(fields);
    };
    const Value last = tick + count - 1;
    const bool ends = last + 1 == run.ticks;
    const bool fresh = cells != before;
    if (fresh || (ends && last == tick)) row(tick);
    if (ends && last > tick) row(last);
    before = std::move(cells);
    return true;
  });
  return text;
}

}  // namespace detent::cli
