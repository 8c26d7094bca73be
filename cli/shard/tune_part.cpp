// A value that fails keeps its run, so that there is one to tell where merge finds no shortest one in time.
// Each is played again on the design at its value before it is believed.
#include "cli/shard/tune_part.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "cli/json_parts.hpp"
#include "cli/shard/shard_values.hpp"
#include "cli/tune_json.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using solver::PointFinding;
using solver::Standing;

constexpr std::array standings{Standing::open,      Standing::holds,  Standing::fails,
                               Standing::no_design, Standing::no_run, Standing::undecided};
constexpr dsl::Value most_ticks_known = 1'000'000'000'000;

Json json_point(const PointFinding& finding, const Model& model) {
  Json json{{"standing", standing_word(finding.standing)}};
  if (finding.standing == Standing::fails || finding.standing == Standing::undecided) {
    json["claim"] = model.claims[finding.claim].name;
    json["limit"] = limit_word(finding.limit);
  }
  if (finding.standing == Standing::fails) {
    json["shortest"] = finding.shortest;
    json["for_all_time"] = finding.for_all_time;
    json["ticks"] = finding.ticks;
    if (finding.run) json["run"] = json_raw_run(*finding.run);
  }
  if (finding.standing == Standing::holds) {
    json["together"] = finding.together;
    json["vacuous"] = Json::array();
    for (const std::uint32_t claim : finding.vacuous) json["vacuous"].push_back(model.claims[claim].name);
  }
  return json;
}

Json json_cost(const solver::TuneStatistics& cost) {
  return {{"asked", cost.asked},
          {"shared", cost.shared},
          {"carried", cost.carried},
          {"together", cost.together},
          {"seconds", cost.seconds}};
}

void add_cost(const Strict& json, solver::TuneStatistics& cost) {
  json.only({"asked", "shared", "carried", "together", "seconds"});
  cost.asked += json.at("asked").counter();
  cost.shared += json.at("shared").counter();
  cost.carried += json.at("carried").counter();
  cost.together += json.at("together").counter();
  cost.seconds += json.at("seconds").seconds();
}

class PointReader {
 public:
  PointReader(const TuneResult& result, const TuneStudy& study)
      : result_(result), model_(*result.compiled.model), names_(model_), study_(study) {}

  PointFinding read(const Strict& json, std::size_t point) const {
    json.only(
        {"standing", "claim", "limit", "shortest", "for_all_time", "ticks", "run", "together", "vacuous"});
    const std::string word = json.at("standing").text();
    const auto found = std::find_if(standings.begin(), standings.end(),
                                    [&](Standing one) { return word == standing_word(one); });
    if (found == standings.end())
      json.at("standing").refuse(fmt::format("there is no '{}'", word.substr(0, 40)));
    PointFinding finding{.standing = *found};
    if (finding.standing == Standing::fails || finding.standing == Standing::undecided) {
      finding.claim = read_claim(json.at("claim"), names_);
      finding.limit = read_limit(json.at("limit"));
    }
    if (finding.standing == Standing::fails) read_failure(json, point, finding);
    if (finding.standing == Standing::holds) read_hold(json, finding);
    return finding;
  }

 private:
  void read_failure(const Strict& json, std::size_t point, PointFinding& finding) const {
    finding.shortest = json.at("shortest").truth();
    finding.for_all_time = json.at("for_all_time").truth();
    finding.ticks = json.at("ticks").whole(0, most_ticks_known);
    const bool possible = model_.claims[finding.claim].possible;
    const auto run = json.maybe("run");
    if (possible == run.has_value())
      json.refuse(possible ? "has a run that shows nothing" : "has no run to show it");
    if (!run) return;
    const dsl::Tried tried = design_at(study_, result_.compiled, point);
    if (!tried.model) json.refuse("fails where there is no design");
    finding.run = read_raw_run(*run, *tried.model);
    confirm_raw_run(*run, *tried.model, *finding.run, tried.model->claims[finding.claim].watch);
  }

  void read_hold(const Strict& json, PointFinding& finding) const {
    finding.together = json.at("together").index(most_points + 1);
    for (const Strict& name : json.at("vacuous").items()) finding.vacuous.push_back(read_claim(name, names_));
  }

  const TuneResult& result_;
  const Model& model_;
  ClaimNames names_;
  const TuneStudy& study_;
};

}  // namespace

std::vector<PointStretch> stretches_of(const std::vector<TuneStudy>& studies, const Shard& shard) {
  std::size_t all = 0;
  for (const TuneStudy& study : studies) all += study.grid.points();
  const auto [first, last] = shard.stretch(all);
  std::vector<PointStretch> mine;
  std::size_t before = 0;
  for (std::size_t index = 0; index < studies.size(); ++index) {
    const std::size_t points = studies[index].grid.points();
    const std::size_t begin = std::max(first, before), end = std::min(last, before + points);
    if (begin < end) mine.push_back({index, {begin - before, end - before}});
    before += points;
  }
  return mine;
}

Json tune_part(const TuneResult& result, const std::vector<PointStretch>& mine) {
  Json stretches = Json::array();
  for (const PointStretch& one : mine) {
    const TuneStudy& study = result.studies[one.study];
    Json points = Json::array();
    for (std::size_t point = one.points.first; point < one.points.second; ++point) {
      points.push_back(json_point(study.at(point), *result.compiled.model));
    }
    stretches.push_back({{"study", one.study},
                         {"first", one.points.first},
                         {"points", std::move(points)},
                         {"statistics", json_cost(study.report.statistics)}});
  }
  return {{"stretches", std::move(stretches)}};
}

bool all_decided(const TuneResult& result, const std::vector<PointStretch>& mine) {
  return std::all_of(mine.begin(), mine.end(), [&](const PointStretch& one) {
    const auto begin = result.studies[one.study].report.points.begin();
    return std::all_of(begin + static_cast<std::ptrdiff_t>(one.points.first),
                       begin + static_cast<std::ptrdiff_t>(one.points.second), is_known);
  });
}

void join_tune(TuneResult& planned, const std::vector<PartOf>& parts) {
  for (const PartOf& part : parts) {
    const std::vector<PointStretch> its = stretches_of(planned.studies, part.shard);
    part.json.only({"stretches"});
    const std::vector<Strict> given = part.json.at("stretches").items();
    if (given.size() != its.size()) part.json.at("stretches").refuse("are more or fewer than this shard has");
    for (std::size_t index = 0; index < its.size(); ++index) {
      const Strict& json = given[index];
      json.only({"study", "first", "points", "statistics"});
      TuneStudy& study = planned.studies[its[index].study];
      const auto [first, last] = its[index].points;
      const std::vector<Strict> points = json.at("points").items();
      const bool fits = json.at("study").index(planned.studies.size()) == its[index].study &&
                        json.at("first").index(study.grid.points()) == first && points.size() == last - first;
      if (!fits) json.refuse("is not the stretch of values that this shard has");
      const PointReader reader(planned, study);
      for (std::size_t at = 0; at < points.size(); ++at) {
        study.report.points[first + at] = reader.read(points[at], first + at);
      }
      add_cost(json.at("statistics"), study.report.statistics);
    }
  }
}

}  // namespace detent::cli
