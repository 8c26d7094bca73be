// Each shard asks about the design as it is, because only claims that hold there are looked at with faults;
// with pairs it asks about every single fault too, because pairs are made of those that are survived. It
// keeps its own.
//
// Where a limit made two shards see the design otherwise (a claim proved here and undecided there), the claim
// counts as undecided in the joined study, and a pair that its shard did not look at counts as not looked at:
// no more is said than all shards know.
#include "cli/shard/faults_part.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <utility>

#include "cli/shard/shard_values.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using solver::CaseAnswer;
using solver::Outcome;

Json json_cost(const solver::CasesReport& cost) {
  return {
      {"asked", cost.asked}, {"known", cost.known}, {"by_chance", cost.by_chance}, {"seconds", cost.seconds}};
}

void add_cost(const Strict& json, solver::CasesReport& cost) {
  json.only({"asked", "known", "by_chance", "seconds"});
  cost.asked += json.at("asked").counter();
  cost.known += json.at("known").counter();
  cost.by_chance += json.at("by_chance").counter();
  cost.seconds += json.at("seconds").seconds();
}

class Join {
 public:
  Join(const dsl::Compiled& compiled, FaultStudy planned, const std::vector<PartOf>& parts)
      : compiled_(compiled),
        model_(*compiled.model),
        names_(model_),
        parts_(parts),
        study_(std::move(planned)) {}

  FaultStudy run() {
    for (const PartOf& part : parts_) {
      part.json.only({"without", "singles", "pairs", "cost"});
      add_without(part);
      add_cost(part.json.at("cost"), study_.cost);
    }
    study_.claims = holding(study_.without);
    if (study_.without.no_run_of) {
      study_.singles.clear();
      return std::move(study_);
    }
    for (const PartOf& part : parts_) add_singles(part);
    if (study_.with_pairs) add_pairs();
    return std::move(study_);
  }

 private:
  CaseAnswer answer_of(const Strict& json, const std::vector<std::size_t>& faults) const {
    std::optional<Model> made;
    return read_raw_answer(json, names_, [&]() -> const Model& {
      if (!made) made = model_with(*compiled_.design, compiled_.sources, study_.faults, faults);
      return *made;
    });
  }

  /// Verdicts on the claims that are looked at, in their order; one that is not there is undecided.
  CaseAnswer fitted(CaseAnswer answer) const {
    if (answer.no_run_of || !answer.looked_at) return answer;
    std::map<std::uint32_t, solver::Verdict*> by_claim;
    for (solver::Verdict& one : answer.verdicts) by_claim.emplace(one.claim, &one);
    std::vector<solver::Verdict> verdicts;
    for (const std::uint32_t claim : study_.claims) {
      const auto found = by_claim.find(claim);
      verdicts.push_back(found == by_claim.end() ? solver::Verdict{.claim = claim}
                                                 : std::move(*found->second));
    }
    answer.verdicts = std::move(verdicts);
    return answer;
  }

  void add_without(const PartOf& part) {
    const Strict json = part.json.at("without");
    CaseAnswer answer = answer_of(json, {});
    const bool all = answer.verdicts.size() == model_.claims.size();
    if (answer.looked_at && !answer.no_run_of && !all) json.refuse("has not one verdict for each claim");
    if (&part == &parts_.front()) {
      study_.without = std::move(answer);
      return;
    }
    CaseAnswer& so_far = study_.without;
    // A shard that was stopped before it knew anything leaves everything open.
    if (!answer.looked_at) so_far = std::move(answer);
    if (!so_far.looked_at) return;
    if (answer.no_run_of != so_far.no_run_of)
      json.refuse("says otherwise than an earlier shard whether there is a run");
    for (std::size_t index = 0; index < so_far.verdicts.size(); ++index) {
      const Outcome one = so_far.verdicts[index].outcome, other = answer.verdicts[index].outcome;
      if (one == other || one == Outcome::undecided) continue;
      if (other != Outcome::undecided) json.refuse("contradicts an earlier shard");
      so_far.verdicts[index] = std::move(answer.verdicts[index]);
    }
  }

  void add_singles(const PartOf& part) {
    std::size_t at = 0;
    const std::vector<Strict> given = part.json.at("singles").items();
    for (std::size_t index = 0; index < study_.singles.size(); ++index) {
      if (!part.shard.has(index)) continue;
      FaultCase& one = study_.singles[index];
      if (at == given.size()) part.json.at("singles").refuse("is too short: a fault is missing");
      const Strict& json = given[at++];
      if (json.at("fault").text() != study_.faults[one.faults.front()].name)
        json.refuse("is not the fault in turn");
      one.answer = fitted(answer_of(json, one.faults));
    }
    if (at < given.size()) given[at].refuse("is a fault too many");
  }

  void add_pairs() {
    std::map<std::pair<std::string, std::string>, Strict> given;
    for (const PartOf& part : parts_) {
      for (const Strict& json : part.json.at("pairs").items()) {
        const std::vector<Strict> names = json.at("faults").items();
        if (names.size() != 2) json.refuse("is no pair");
        const bool fresh = given.try_emplace({names[0].text(), names[1].text()}, json).second;
        if (!fresh) json.refuse("is there twice");
      }
    }
    study_.pairs = pair_cases(model_, study_);
    for (FaultCase& one : study_.pairs) {
      const auto found = given.find({study_.faults[one.faults[0]].name, study_.faults[one.faults[1]].name});
      if (found != given.end()) one.answer = fitted(answer_of(found->second, one.faults));
    }
  }

  const dsl::Compiled& compiled_;
  const Model& model_;
  ClaimNames names_;
  const std::vector<PartOf>& parts_;
  FaultStudy study_;
};

}  // namespace

Json faults_part(const dsl::Compiled& compiled, const FaultStudy& study, const Shard& shard) {
  const Model& model = *compiled.model;
  Json part{{"without", json_raw_answer(model, study.without)}, {"singles", Json::array()}};
  for (std::size_t index = 0; index < study.singles.size(); ++index) {
    if (!shard.has(index)) continue;
    Json json = json_raw_answer(model, study.singles[index].answer);
    json["fault"] = study.faults[study.singles[index].faults.front()].name;
    part["singles"].push_back(std::move(json));
  }
  part["pairs"] = Json::array();
  for (const FaultCase& one : study.pairs) {
    Json json = json_raw_answer(model, one.answer);
    json["faults"] = {study.faults[one.faults[0]].name, study.faults[one.faults[1]].name};
    part["pairs"].push_back(std::move(json));
  }
  part["cost"] = json_cost(study.cost);
  return part;
}

bool all_decided(const FaultStudy& study, const Shard& shard) {
  const auto open = [](const CaseAnswer& answer) {
    return !answer.looked_at ||
           std::any_of(answer.verdicts.begin(), answer.verdicts.end(),
                       [](const solver::Verdict& one) { return one.outcome == Outcome::undecided; });
  };
  if (open(study.without)) return false;
  if (study.claims.empty()) return true;
  for (std::size_t index = 0; index < study.singles.size(); ++index) {
    if (shard.has(index) && open(study.singles[index].answer)) return false;
  }
  return std::none_of(study.pairs.begin(), study.pairs.end(),
                      [&](const FaultCase& one) { return open(one.answer); });
}

FaultStudy joined_faults(const dsl::Compiled& compiled, FaultStudy planned,
                         const std::vector<PartOf>& parts) {
  return Join(compiled, std::move(planned), parts).run();
}

}  // namespace detent::cli
