// A run is replayed on the interpreter, and written by changes: most ticks of most runs change nothing.
#include "cli/json_run.hpp"

#include "solver/interpreter.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Signal;
using dsl::SignalRole;
using dsl::SortKind;
using dsl::Value;
using solver::Trace;

const char* kind_word(SortKind kind) {
  switch (kind) {
    case SortKind::condition:
      return "condition";
    case SortKind::level:
      return "level";
    case SortKind::position:
      return "position";
  }
  return "";
}

const char* role_word(SignalRole role) {
  switch (role) {
    case SignalRole::hand:
      return "hand";
    case SignalRole::element:
      return "element";
    case SignalRole::output:
      return "output";
  }
  return "";
}

/// The hands' values at a moment: at the first all of them, afterwards those that have changed.
Json input_values(const Model& model, const Trace& trace, std::size_t moment) {
  Json values = Json::object();
  for (const Signal& signal : model.signals) {
    if (signal.role != SignalRole::hand) continue;
    const Value value = trace.moments()[moment].values[signal.node];
    const bool fresh = moment == 0 || trace.moments()[moment - 1].values[signal.node] != value;
    if (fresh) values[signal.name] = json_value(signal, value);
  }
  return values;
}

Json inputs_by_event(const Model& model, const Trace& trace) {
  Json events = Json::array();
  for (std::size_t moment = 0; moment < trace.moments().size(); ++moment) {
    Json values = input_values(model, trace, moment);
    if (moment > 0 && values.empty()) continue;
    events.push_back({{"tick", trace.moments()[moment].tick}, {"values", std::move(values)}});
  }
  return events;
}

Json spans_of(const Signal& signal, const Trace& trace) {
  Json spans = Json::array();
  const auto& moments = trace.moments();
  for (std::size_t first = 0; first < moments.size();) {
    const Value value = moments[first].values[signal.node];
    std::size_t next = first + 1;
    while (next < moments.size() && moments[next].values[signal.node] == value) ++next;
    const std::size_t begin = moments[first].tick;
    const std::size_t end = next < moments.size() ? moments[next].tick : trace.ticks();
    spans.push_back({{"from", begin}, {"ticks", end - begin}, {"value", json_value(signal, value)}});
    first = next;
  }
  return spans;
}

}  // namespace

Json json_value(const Signal& signal, Value value) {
  if (signal.sort.kind == SortKind::condition) return value != 0;
  if (signal.sort.kind == SortKind::position) return dsl::to_text(value, signal.sort);
  return value;
}

Json json_signal(const Signal& signal) {
  Json json{{"name", signal.name},
            {"doc", signal.doc},
            {"keyword", signal.element},
            {"role", role_word(signal.role)},
            {"kind", kind_word(signal.sort.kind)}};
  if (signal.sort.kind == SortKind::level) {
    json["unit"] = signal.sort.unit;
    json["decimals"] = signal.sort.decimals;
  } else {
    json["words"] = signal.sort.positions;
  }
  return json;
}

Json json_run(const Model& model, const solver::Run& run) {
  const Trace trace = solver::replay(model.circuit, run);
  Json signals = Json::array();
  for (const Signal& signal : model.signals) {
    signals.push_back({{"name", signal.name}, {"spans", spans_of(signal, trace)}});
  }
  return {
      {"ticks", trace.ticks()}, {"inputs", inputs_by_event(model, trace)}, {"signals", std::move(signals)}};
}

}  // namespace detent::cli
