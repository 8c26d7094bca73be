#include "cli/run_json.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "cli/json_run.hpp"
#include "cli/shard/strict_json.hpp"
#include "cli/time_text.hpp"
#include "cli/value_text.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Signal;

constexpr const char* mend = "give a run as detent check --evidence FOLDER writes it (NAME.run.json)";

Reading<HandRun> bad(std::string problem) {
  return {.problem = std::move(problem), .mend = mend};
}

/// A whole number from `low` to `high`.
std::optional<Value> whole(const Json& json, Value low, Value high) {
  if (!json.is_number_integer()) return std::nullopt;
  if (json.is_number_unsigned() && json.get<std::uint64_t>() > static_cast<std::uint64_t>(high))
    return std::nullopt;
  const auto value = json.get<Value>();
  return value >= low && value <= high ? std::optional(value) : std::nullopt;
}

/// What json_value() made of it.
std::optional<Value> value_of(const Model& model, const Signal& signal, const Json& json) {
  if (signal.sort.kind == dsl::SortKind::condition) {
    return json.is_boolean() ? std::optional<Value>(json.get<bool>()) : std::nullopt;
  }
  if (signal.sort.kind == dsl::SortKind::position) {
    return json.is_string() ? read_value(model, signal, json.get<std::string>()).value : std::nullopt;
  }
  const dsl::CircuitInput& input = model.circuit.inputs()[signal.input];
  const std::optional<Value> value = whole(json, input.range.low, input.range.high);
  return value && (*value - input.range.low) % input.step == 0 ? value : std::nullopt;
}

std::optional<std::size_t> hand_named(const Model& model, const std::string& name) {
  for (std::size_t index = 0; index < model.signals.size(); ++index) {
    if (model.signals[index].role == dsl::SignalRole::hand && model.signals[index].name == name) return index;
  }
  return std::nullopt;
}

}  // namespace

bool lacks_tick(std::string_view text) {
  const Json json = Json::parse(text, nullptr, false);
  return json.is_object() && !json.contains(tick_member);
}

Reading<HandRun> read_json_run(const Model& model, std::string_view text) {
  if (text.find_first_not_of(" \t\r\n") == std::string_view::npos) return bad("it is empty, and no JSON");
  std::string twice;
  const Json json = parse_strictly(text, twice);
  if (json.is_discarded()) return bad("it is to be JSON, and is not well formed");
  if (!twice.empty()) {
    return {.problem = fmt::format("the member '{}' stands twice in one object", twice.substr(0, 80)),
            .mend = "leave one of the two out"};
  }
  if (!json.is_object()) return bad("it is JSON, but no object with 'ticks' and 'inputs'");
  if (json.contains(tick_member) && json[tick_member] != Json(model.tick_us)) {
    return {.problem = fmt::format(
                "the run was made for a tick with '{}' {}, but a tick of this design is {}", tick_member,
                json[tick_member].dump().substr(0, 40), dsl::time_text(1, model.tick_us)),
            .mend = "give it to the design that it was made for: its times would mean something else here"};
  }
  if (!json.contains("ticks") || !json.contains("inputs") || !json["inputs"].is_array()) {
    return bad("it has no 'ticks' and 'inputs', so it is no run");
  }
  const std::optional<Value> ticks = whole(json["ticks"], 1, longest_run);
  if (!ticks) return bad(fmt::format("'ticks' is no whole number from 1 to {}", longest_run));
  HandRun run{.rows = {{0, at_power_up(model)}}, .ticks = *ticks};
  for (std::size_t index = 0; index < json["inputs"].size(); ++index) {
    const Json& event = json["inputs"][index];
    const bool good = event.is_object() && event.contains("tick") && event.contains("values") &&
                      event["values"].is_object();
    const Value earliest = index == 0 ? 0 : run.rows.back().tick + 1;
    const std::optional<Value> tick = good ? whole(event["tick"], earliest, *ticks - 1) : std::nullopt;
    if (!tick)
      return bad(
          fmt::format("inputs[{}] has no 'values' with a 'tick' from {} to {}", index, earliest, *ticks - 1));
    if (*tick > run.rows.back().tick) run.rows.push_back({*tick, run.rows.back().inputs});
    for (const auto& [name, given] : event["values"].items()) {
      const std::optional<std::size_t> hand = hand_named(model, name);
      if (!hand) return bad(fmt::format("inputs[{}]: no input is called '{}'", index, name.substr(0, 80)));
      const std::optional<Value> value = value_of(model, model.signals[*hand], given);
      if (!value) return bad(fmt::format("inputs[{}]: {} has no such value", index, name));
      run.rows.back().inputs[model.signals[*hand].input] = *value;
    }
  }
  return {.value = std::move(run)};
}

}  // namespace detent::cli
