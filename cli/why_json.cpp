#include "cli/why_json.hpp"

#include "cli/json.hpp"
#include "cli/json_parts.hpp"
#include "solver/why.hpp"

namespace detent::cli {
namespace {

using dsl::Model;

Json names_of(const Model& model, const std::vector<std::uint32_t>& signals) {
  Json names = Json::array();
  for (const std::uint32_t signal : signals) names.push_back(model.signals[signal].name);
  return names;
}

Json json_reasons(const Model& model, const solver::Proof& proof) {
  const solver::ProofReasons reasons = solver::reasons_for(model, proof);
  Json assumptions = Json::array();
  for (const std::size_t index : reasons.assumptions) assumptions.push_back(model.constraints[index].name);
  return {{"rests_on", names_of(model, reasons.needed)},
          {"assumptions", std::move(assumptions)},
          {"not_needed", names_of(model, reasons.not_needed)}};
}

Json json_causes(const Model& model, const solver::Verdict& verdict) {
  Json all = Json::array();
  for (const solver::Cause& cause :
       solver::causes_of(model, model.claims[verdict.claim].watch, *verdict.run)) {
    const dsl::Signal& signal = model.signals[cause.signal];
    all.push_back({{"signal", signal.name},
                   {"tick", cause.tick},
                   {"us", static_cast<std::int64_t>(cause.tick) * model.tick_us},
                   {"value", json_value(signal, cause.value)},
                   {"because", cause.because}});
  }
  return all;
}

Status status_of_report(const std::optional<solver::Report>& report) {
  if (!report || report->no_run_of) return Status::input_wrong;
  return status_of_verdict(report->verdicts.front());
}

}  // namespace

Status status_of_verdict(const solver::Verdict& verdict) {
  switch (verdict.outcome) {
    case solver::Outcome::refuted:
      return Status::refuted;
    case solver::Outcome::undecided:
      return Status::undecided;
    default:
      return Status::all_hold;
  }
}

std::string why_json(const std::string& file, const dsl::Compiled& compiled,
                     const std::optional<solver::Report>& report) {
  Json json = json_head(status_of_report(report), file, compiled);
  if (report && report->no_run_of) {
    add_contradiction(json, compiled, *report);
  } else if (report) {
    const Model& model = *compiled.model;
    const solver::Verdict& verdict = report->verdicts.front();
    json["verdict"] = json_verdict(model, compiled.sources, verdict);
    if (verdict.proof) json["proof"] = json_reasons(model, *verdict.proof);
    if (verdict.run && verdict.run->ticks() > 0) json["causes"] = json_causes(model, verdict);
  }
  return json_print(json);
}

}  // namespace detent::cli
