#include "cli/json_parts.hpp"
#include "cli/replay_report.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Signal;

/// A level in the units of the design, as a number with its decimals; all else as in a run.
Json json_fine(const Signal& signal, std::int64_t value) {
  if (signal.sort.kind != dsl::SortKind::level) return json_value(signal, value);
  double level = static_cast<double>(value) / static_cast<double>(fine_per_step);
  for (int i = 0; i < signal.sort.decimals; ++i) level /= 10;
  return level;
}

Json json_columns(const Model& model, const LogColumns& columns) {
  const auto list = [&](const std::vector<LogColumn>& some) {
    Json all = Json::array();
    for (const LogColumn& column : some) {
      all.push_back({{"signal", model.signals[column.signal].name}, {"column", column.header}});
    }
    return all;
  };
  Json still = Json::array();
  for (const auto& [signal, value] : columns.still) {
    still.push_back(
        {{"signal", model.signals[signal].name}, {"value", dsl::to_text(value, model.signals[signal].sort)}});
  }
  return {{"time", columns.time_header},       {"inputs", list(columns.inputs)},
          {"compared", list(columns.outputs)}, {"still", std::move(still)},
          {"not_logged", columns.not_logged},  {"unknown", columns.unknown}};
}

Json json_comparison(const Model& model, const Replay& replay) {
  Json all = Json::array();
  for (const Compared& one : replay.compared) {
    const Signal& signal = model.signals[one.signal];
    Json json{{"signal", signal.name}, {"outcome", one.parting ? "parts" : "same"}};
    if (one.parting) {
      json["row"] = one.parting->row;
      json["ns"] = one.parting->time;
      json["log"] = json_fine(signal, one.parting->log);
      json["model"] = json_fine(signal, one.parting->model);
    }
    all.push_back(std::move(json));
  }
  return all;
}

}  // namespace

std::string replay_json(const ReplayResult& result) {
  const Model& model = *result.compiled.model;
  const Replay& replay = result.replay;
  Json json = json_head(status_of(result), result.file, result.compiled);
  json["log_file"] = result.log_file;
  json["rows"] = replay.rows;
  json["length_ns"] = replay.length;
  json["ticks"] = replay.ticks;
  json["tolerance_ns"] = result.wishes.tolerance;
  json["interrupted"] = replay.interrupted;
  json["rows_seen_together"] = replay.together;
  json["columns"] = json_columns(model, replay.columns);
  const Compared* first = first_parting(replay);
  json["first"] = first == nullptr ? Json(nullptr) : Json(model.signals[first->signal].name);
  json["comparison"] = json_comparison(model, replay);
  json["unkept"] = json_unkept(model, replay.unkept);
  json["claims"] = json_claims(model, result.compiled.sources, replay.claims);
  return json_print(json);
}

}  // namespace detent::cli
