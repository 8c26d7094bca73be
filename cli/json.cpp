// The JSON report. Numbers are exact integers throughout: ticks, microseconds, scaled levels.
#include "cli/json.hpp"

#include "cli/breakage.hpp"
#include "cli/json_parts.hpp"
#include "cli/json_run.hpp"
#include "cli/page.hpp"
#include "solver/interpreter.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Sources;

Json json_within(const Bound& bound, std::int64_t tick_us) {
  return {{"ticks", bound.ticks},
          {"us", bound.ticks * tick_us},
          {"asked", bound.asked},
          {"reason", bound.reason}};
}

// ---- Verdicts ----

Json json_verdicts(const CheckResult& result) {
  Json all = Json::array();
  for (const solver::Verdict& verdict : result.report->verdicts) {
    all.push_back(json_verdict(*result.compiled.model, result.compiled.sources, verdict));
  }
  return all;
}

// ---- Findings ----

Json json_overlaps(const CheckResult& result) {
  const Model& model = *result.compiled.model;
  const Sources& sources = result.compiled.sources;
  Json all = Json::array();
  for (const solver::OverlapFinding& finding : result.report->overlaps) {
    const dsl::Overlap& overlap = model.overlaps[finding.overlap];
    Json json{{"stages", overlap.stages},
              {"first", {{"text", overlap.first_text}, {"place", json_place(sources, overlap.first)}}},
              {"second", {{"text", overlap.second_text}, {"place", json_place(sources, overlap.second)}}}};
    if (finding.run) json["run"] = json_run(model, *finding.run);
    all.push_back(std::move(json));
  }
  return all;
}

Json json_never_change(const CheckResult& result) {
  Json names = Json::array();
  for (const std::uint32_t index : result.report->never_change) {
    names.push_back(result.compiled.model->signals[index].name);
  }
  return names;
}

void add_design(Json& json, const CheckResult& result) {
  const Model& model = *result.compiled.model;
  json["signals"] = json_signals(model, result.compiled.sources);
}

void add_report(Json& json, const CheckResult& result) {
  json["within"] = result.bound ? json_within(*result.bound, result.compiled.model->tick_us) : Json(nullptr);
  if (result.report->no_run_of) add_contradiction(json, result.compiled, *result.report);
  // Of what no run obeys nothing can be said, neither that it holds nor that it breaks.
  json["verdicts"] = result.report->no_run_of ? Json::array() : json_verdicts(result);
  json["overlaps"] = json_overlaps(result);
  json["never_change"] = json_never_change(result);
  json["statistics"] = json_statistics(result.report->statistics);
}

}  // namespace

Json json_signals(const Model& model, const Sources& sources) {
  Json all = Json::array();
  for (const dsl::Signal& signal : model.signals) {
    Json json = json_signal(signal);
    json["place"] = signal.element == "power_up" ? Json(nullptr) : json_place(sources, signal.place);
    all.push_back(std::move(json));
  }
  return all;
}

Json json_verdict(const Model& model, const Sources& sources, const solver::Verdict& verdict) {
  const dsl::Claim& claim = model.claims[verdict.claim];
  Json json{{"claim", claim.name},
            {"doc", claim.doc},
            {"text", claim.text},
            {"place", json_place(sources, claim.place)},
            {"outcome", outcome_word(verdict.outcome)},
            {"ticks", verdict.ticks},
            {"us", verdict.ticks * model.tick_us},
            {"vacuous", verdict.vacuous},
            {"limit", limit_word(verdict.limit)},
            {"for_all_time", verdict.proof.has_value()}};
  if (verdict.events > 0) json["events"] = verdict.events;
  if (verdict.run && verdict.run->ticks() > 0) {
    json["explanation"] = break_words(model, claim, solver::replay(model.circuit, *verdict.run));
    json["run"] = json_run(model, *verdict.run);
  }
  return json;
}

void add_contradiction(Json& json, const dsl::Compiled& compiled, const solver::Report& report) {
  json["no_run_of"] = *report.no_run_of;
  Json all = Json::array();
  for (const std::uint32_t index : report.contradicting) {
    const dsl::Constraint& constraint = compiled.model->constraints[index];
    all.push_back({{"name", constraint.name},
                   {"doc", constraint.doc},
                   {"place", json_place(compiled.sources, constraint.place)}});
  }
  json["contradicting"] = std::move(all);
}

std::string json_text(const CheckResult& result) {
  Json json = json_head(status_of(result), result.file, result.compiled);
  if (result.compiled.model) add_design(json, result);
  if (result.report) add_report(json, result);
  return json_print(json);
}

}  // namespace detent::cli
