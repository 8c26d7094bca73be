#include "cli/tune_json.hpp"

#include "cli/json_parts.hpp"

namespace detent::cli {
namespace {

using solver::Standing;

Json json_axis(const TuneAxis& axis, const dsl::Compiled& compiled) {
  const dsl::Tunable& tunable = axis.tunable;
  return {{"name", tunable.name},
          {"doc", tunable.doc},
          {"place", json_place(compiled.sources, tunable.place)},
          {"kind", tunable.is_time ? "time" : "level"},
          {"unit", tunable.is_time ? "ticks" : tunable.sort.unit},
          {"decimals", tunable.is_time ? 0 : tunable.sort.decimals},
          {"written", tunable.written},
          {"step", axis.step},
          {"low", axis.values.front()},
          {"high", axis.values.back()}};
}

Json json_values(const TuneStudy& study, std::size_t point) {
  Json values = Json::array();
  for (std::size_t axis = 0; axis < study.axes.size(); ++axis) values.push_back(study.value(axis, point));
  return values;
}

Json json_point(const TuneStudy& study, const dsl::Compiled& compiled, std::size_t point) {
  const solver::PointFinding& finding = study.at(point);
  const dsl::Model& model = *compiled.model;
  Json json{{"values", json_values(study, point)}, {"standing", standing_word(finding.standing)}};
  if (finding.standing == Standing::fails || finding.standing == Standing::undecided) {
    json["claim"] = model.claims[finding.claim].name;
  }
  if (finding.standing == Standing::undecided) json["limit"] = limit_word(finding.limit);
  if (finding.standing == Standing::fails) {
    json["evidence"] = finding.run ? "run" : finding.for_all_time ? "proof" : "no_run_in_time";
    if (finding.run) json["ticks"] = finding.run->ticks();
  }
  if (finding.standing == Standing::holds) {
    json["proved_with"] = finding.together;
    Json vacuous = Json::array();
    for (const std::uint32_t claim : finding.vacuous) vacuous.push_back(model.claims[claim].name);
    if (!vacuous.empty()) json["vacuous"] = std::move(vacuous);
  }
  if (finding.standing == Standing::no_design) {
    const dsl::Tried tried = design_at(study, compiled, point);
    json["message"] = tried.errors.empty() ? "" : tried.errors.front().message;
  }
  return json;
}

Json json_points(const TuneStudy& study, const dsl::Compiled& compiled) {
  Json all = Json::array();
  for (std::size_t point = 0; point < study.grid.points(); ++point) {
    all.push_back(json_point(study, compiled, point));
  }
  return all;
}

Json json_intervals(const TuneStudy& study) {
  Json all = Json::array();
  for (std::size_t row = 0; row < study.grid.rows; ++row) {
    for (const TuneInterval& one : intervals_of(study, row)) {
      all.push_back({{"from", json_values(study, one.first)},
                     {"to", json_values(study, one.last)},
                     {"standing", standing_word(one.standing)}});
    }
  }
  return all;
}

/// Runs are told of the edges that the page tells of, and of the written values where they fail.
Json json_run_at(const TuneStudy& study, const dsl::Compiled& compiled, std::size_t point) {
  const solver::PointFinding& finding = study.at(point);
  const dsl::Tried tried = finding.run ? design_at(study, compiled, point) : dsl::Tried{};
  if (!tried.model) return nullptr;
  Json json = json_run(*tried.model, *finding.run);
  json["shortest"] = finding.shortest;
  return json;
}

Json json_edges(const TuneStudy& study, const dsl::Compiled& compiled) {
  Json all = Json::array();
  for (const solver::Edge& edge : study.edges) {
    Json json{{"inside", json_values(study, edge.inside)}, {"outside", json_values(study, edge.outside)}};
    for (const solver::Edge& told : study.told) {
      if (told.inside == edge.inside && told.outside == edge.outside) {
        json["run"] = json_run_at(study, compiled, edge.outside);
      }
    }
    all.push_back(std::move(json));
  }
  return all;
}

Json json_study(const TuneStudy& study, const dsl::Compiled& compiled) {
  Json axes = Json::array();
  for (const TuneAxis& axis : study.axes) axes.push_back(json_axis(axis, compiled));
  const std::size_t written = study.grid.written;
  const solver::TuneStatistics& cost = study.report.statistics;
  return {{"tunables", std::move(axes)},
          {"written",
           {{"standing", standing_word(study.at(written).standing)},
            {"run", json_run_at(study, compiled, written)}}},
          {"intervals", json_intervals(study)},
          {"edges", json_edges(study, compiled)},
          {"points", json_points(study, compiled)},
          {"statistics",
           {{"asked", cost.asked},
            {"shared", cost.shared},
            {"carried", cost.carried},
            {"together", cost.together},
            {"seconds", cost.seconds}}}};
}

}  // namespace

const char* standing_word(Standing standing) {
  switch (standing) {
    case Standing::holds:
      return "holds";
    case Standing::fails:
      return "fails";
    case Standing::no_design:
      return "no_design";
    case Standing::no_run:
      return "no_run";
    case Standing::undecided:
      return "undecided";
    case Standing::open:
      return "not_looked_at";
  }
  return "";
}

std::string tune_json_text(const TuneResult& result) {
  Json json = json_head(status_of(result), result.file, result.compiled);
  if (result.compiled.model) {
    Json studies = Json::array();
    for (const TuneStudy& study : result.studies) studies.push_back(json_study(study, result.compiled));
    json["studies"] = std::move(studies);
  }
  return json_print(json);
}

}  // namespace detent::cli
