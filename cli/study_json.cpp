#include "cli/study_json.hpp"

#include "cli/fault_summary.hpp"
#include "cli/gaps_text.hpp"
#include "cli/json_parts.hpp"

namespace detent::cli {
namespace {

using dsl::Model;

Json json_claims(const dsl::Compiled& compiled, const solver::CaseAnswer& answer) {
  Json all = Json::array();
  for (const solver::Verdict& verdict : answer.verdicts) {
    const dsl::Claim& claim = compiled.model->claims[verdict.claim];
    all.push_back({{"claim", claim.name},
                   {"doc", claim.doc},
                   {"text", claim.text},
                   {"place", json_place(compiled.sources, claim.place)},
                   {"possible", claim.possible},
                   {"outcome", outcome_word(verdict.outcome)}});
  }
  return all;
}

Json json_cost(const solver::CasesReport& cost) {
  return {
      {"asked", cost.asked}, {"known", cost.known}, {"by_chance", cost.by_chance}, {"seconds", cost.seconds}};
}

Json claim_names(const Model& model, const std::vector<std::uint32_t>& claims) {
  Json names = Json::array();
  for (const std::uint32_t claim : claims) names.push_back(model.claims[claim].name);
  return names;
}

// ---- Faults ----

const char* fate_word(Fate fate) {
  switch (fate) {
    case Fate::survived:
      return "survived";
    case Fate::fallen:
      return "fallen";
    case Fate::undecided:
      return "undecided";
    case Fate::no_run:
      return "no_run";
  }
  return "";
}

Json json_verdicts(const dsl::Compiled& compiled, const FaultStudy& study, const FaultCase& one) {
  const Model& model = *compiled.model;
  Json all = Json::array();
  for (const solver::Verdict& verdict : one.answer.verdicts) {
    Json json{{"claim", model.claims[verdict.claim].name},
              {"outcome", outcome_word(verdict.outcome)},
              {"limit", limit_word(verdict.limit)}};
    if (verdict.run && verdict.outcome == solver::Outcome::refuted) {
      const Model faulty = model_with(*compiled.design, compiled.sources, study.faults, one.faults);
      json["run"] = json_run(faulty, *verdict.run);
    }
    all.push_back(std::move(json));
  }
  return all;
}

Json json_cases(const dsl::Compiled& compiled, const FaultStudy& study, const std::vector<FaultCase>& cases) {
  Json all = Json::array();
  for (const FaultCase& one : cases) {
    Json faults = Json::array();
    for (const std::size_t fault : one.faults) {
      faults.push_back({{"name", study.faults[fault].name},
                        {"element", compiled.design->elements[study.faults[fault].element].name},
                        {"place", json_place(compiled.sources, study.faults[fault].place)}});
    }
    all.push_back({{"faults", std::move(faults)},
                   {"fate", fate_word(fate_of(*compiled.model, study, one))},
                   {"verdicts", json_verdicts(compiled, study, one)}});
  }
  return all;
}

Json json_summary(const Model& model, const FaultSummary& sum) {
  Json fallen = Json::array();
  for (const FaultSummary::Fallen& one : sum.fallen_claims) {
    fallen.push_back(
        {{"claim", model.claims[one.claim].name}, {"faults", one.faults}, {"shortest_ticks", one.shortest}});
  }
  return {{"survived", sum.survived},
          {"fallen", sum.fallen},
          {"undecided", sum.undecided},
          {"ruled_out", sum.ruled_out},
          {"fallen_claims", std::move(fallen)}};
}

// ---- Gaps ----

const char* fate_word(Slip::Fate fate) {
  switch (fate) {
    case Slip::Fate::noticed:
      return "noticed";
    case Slip::Fate::gap:
      return "gap";
    case Slip::Fate::no_effect:
      return "no_effect";
    case Slip::Fate::undecided:
      return "undecided";
  }
  return "";
}

const char* fate_word(AssumptionFinding::Fate fate) {
  switch (fate) {
    case AssumptionFinding::Fate::needed:
      return "needed";
    case AssumptionFinding::Fate::needless:
      return "needless";
    case AssumptionFinding::Fate::undecided:
      return "undecided";
  }
  return "";
}

const char* fate_word(PowerUpFinding::Fate fate) {
  switch (fate) {
    case PowerUpFinding::Fate::holds:
      return "holds";
    case PowerUpFinding::Fate::only_oddly:
      return "only_oddly";
    case PowerUpFinding::Fate::undecided:
      return "undecided";
  }
  return "";
}

Json json_slips(const dsl::Compiled& compiled, const GapStudy& study) {
  Json all = Json::array();
  for (const Slip& slip : study.slips) {
    all.push_back({{"name", slip.what.name},
                   {"element", compiled.design->elements[slip.what.element].name},
                   {"place", json_place(compiled.sources, slip.what.place)},
                   {"fate", fate_word(slip.fate)},
                   {"noticed_by", claim_names(*compiled.model, slip.noticed_by)},
                   {"open", claim_names(*compiled.model, slip.open)}});
  }
  return all;
}

Json json_assumptions(const dsl::Compiled& compiled, const GapStudy& study) {
  Json all = Json::array();
  for (const AssumptionFinding& one : study.assumptions) {
    all.push_back({{"name", one.name},
                   {"place", json_place(compiled.sources, one.place)},
                   {"fate", fate_word(one.fate)}});
  }
  return all;
}

Json json_power_up(const Model& model, const GapStudy& study) {
  Json all = Json::array();
  for (const PowerUpFinding& one : study.power_up) {
    all.push_back({{"claim", model.claims[one.claim].name}, {"fate", fate_word(one.fate)}});
  }
  return all;
}

/// Both studies: verdicts without any change, or that there is no run at all.
void add_without(Json& json, const dsl::Compiled& compiled, const solver::CaseAnswer& without) {
  if (without.no_run_of) json["no_run_of"] = *without.no_run_of;
  json["claims"] = json_claims(compiled, without);
}

}  // namespace

std::string faults_json(const std::string& file, const dsl::Compiled& compiled, const FaultStudy* study,
                        Status status) {
  Json json = json_head(status, file, compiled);
  if (study != nullptr) {
    add_without(json, compiled, study->without);
    json["singles"] = json_cases(compiled, *study, study->singles);
    json["summary"] = json_summary(*compiled.model, summary_of(*compiled.model, *study, study->singles));
    if (study->with_pairs) {
      json["pairs"] = json_cases(compiled, *study, study->pairs);
      json["pairs_summary"] =
          json_summary(*compiled.model, summary_of(*compiled.model, *study, study->pairs));
    }
    json["cost"] = json_cost(study->cost);
  }
  return json_print(json);
}

std::string gaps_json(const std::string& file, const dsl::Compiled& compiled, const GapStudy* study,
                      Status status) {
  Json json = json_head(status, file, compiled);
  if (study != nullptr) {
    add_without(json, compiled, study->without);
    json["changes"] = json_slips(compiled, *study);
    json["add_nothing"] = claim_names(*compiled.model, study->add_nothing);
    json["assumptions"] = json_assumptions(compiled, *study);
    json["power_up"] = json_power_up(*compiled.model, *study);
    json["rest_is_possible"] = study->rest_is_possible;
    json["cost"] = json_cost(study->cost);
  }
  return json_print(json);
}

}  // namespace detent::cli
