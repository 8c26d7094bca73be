#include "cli/shard/shard_values.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "cli/json_parts.hpp"
#include "cli/time_text.hpp"
#include "solver/interpreter.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Value;
using solver::Limit;
using solver::Outcome;

/// Values of nodes that playing a run may take, as in the engine.
constexpr std::size_t most_values = 40'000'000;
constexpr Value most_ticks_known = 1'000'000'000'000;
constexpr int most_events = 1'000'000;

constexpr std::array outcomes{Outcome::proved, Outcome::holds_up_to, Outcome::refuted, Outcome::shown,
                              Outcome::undecided};
constexpr std::array limits{Limit::none,        Limit::ticks,          Limit::time,        Limit::memory,
                            Limit::interrupted, Limit::solver_gave_up, Limit::run_too_long};

/// The one of `all` that has this word.
template <class Array, class Word>
auto worded(const Strict& json, const Array& all, Word word) {
  const std::string text = json.text();
  const auto found = std::find_if(all.begin(), all.end(), [&](auto one) { return text == word(one); });
  if (found == all.end()) json.refuse(fmt::format("there is no '{}'", text.substr(0, 40)));
  return *found;
}

/// What has a run, and what may have one.
void check_run(const Strict& json, const solver::Verdict& verdict, const Model& model) {
  const bool possible = model.claims[verdict.claim].possible;
  const bool shown = verdict.outcome == Outcome::shown || (verdict.outcome == Outcome::refuted && !possible);
  if (verdict.run && !shown) json.refuse("has a run that shows nothing");
  if (!verdict.run && shown) json.refuse("has no run to show it");
  const bool fits = verdict.outcome == Outcome::shown ? possible
                    : verdict.outcome == Outcome::proved || verdict.outcome == Outcome::holds_up_to
                        ? !possible
                        : true;
  if (!fits) json.refuse("is no verdict that this claim can have");
}

}  // namespace

Json json_raw_run(const solver::Run& run) {
  Json stretches = Json::array();
  for (const solver::Rows::Stretch& stretch : run.inputs.stretches()) {
    Json row = Json::array({stretch.end});
    for (const Value value : stretch.row) row.push_back(value);
    stretches.push_back(std::move(row));
  }
  return stretches;
}

solver::Run read_raw_run(const Strict& json, const Model& model) {
  const auto& inputs = model.circuit.inputs();
  solver::Run run;
  Value last = 0;
  for (const Strict& stretch : json.items()) {
    const std::vector<Strict> row = stretch.items();
    if (row.size() != inputs.size() + 1) stretch.refuse("has not one value for each input");
    const Value end = row[0].whole(last + 1, longest_run);
    solver::Rows::Row values;
    for (std::size_t index = 0; index < inputs.size(); ++index) {
      const dsl::Range& range = inputs[index].range;
      values.push_back(row[index + 1].whole(range.low, range.high));
    }
    run.inputs.push_back(values, static_cast<std::size_t>(end - last));
    last = end;
  }
  if (run.ticks() == 0) json.refuse("is a run without a tick");
  if (!solver::is_well_formed(model.circuit, run)) json.refuse("is a run that the inputs can't make");
  if (!solver::can_be_kept(model.circuit, run, most_values)) json.refuse("is a run too long to be played");
  return run;
}

void confirm_raw_run(const Strict& json, const Model& model, const solver::Run& run, dsl::NodeId condition) {
  const solver::Trace trace = solver::replay(model.circuit, run);
  bool good = trace.at(trace.ticks() - 1, condition) != 0;
  for (const solver::Trace::Moment& moment : trace.moments()) {
    good = good && std::all_of(model.constraints.begin(), model.constraints.end(),
                               [&](const dsl::Constraint& one) { return moment.values[one.node] != 0; });
  }
  if (!good) json.refuse("is a run that does not do, when it is played, what it is shown for");
}

Limit read_limit(const Strict& json) {
  return worded(json, limits, limit_word);
}

std::uint32_t read_claim(const Strict& json, const ClaimNames& names) {
  const std::string name = json.text();
  if (const auto claim = names.index(name)) return *claim;
  json.refuse(fmt::format("the design has no claim '{}'", name.substr(0, 80)));
}

Json json_raw_verdict(const Model& model, const solver::Verdict& verdict) {
  Json json{{"claim", model.claims[verdict.claim].name},
            {"outcome", outcome_word(verdict.outcome)},
            {"ticks", verdict.ticks},
            {"limit", limit_word(verdict.limit)},
            {"vacuous", verdict.vacuous},
            {"for_all_time", verdict.proof.has_value()},
            {"events", verdict.events}};
  if (verdict.run) json["run"] = json_raw_run(*verdict.run);
  return json;
}

solver::Verdict read_raw_verdict(const Strict& json, const ClaimNames& names,
                                 const std::function<const Model&()>& played_on) {
  json.only({"claim", "outcome", "ticks", "limit", "vacuous", "for_all_time", "events", "run"});
  solver::Verdict verdict{.claim = read_claim(json.at("claim"), names),
                          .outcome = worded(json.at("outcome"), outcomes, outcome_word),
                          .ticks = json.at("ticks").whole(0, most_ticks_known),
                          .limit = read_limit(json.at("limit")),
                          .vacuous = json.at("vacuous").truth()};
  verdict.events = static_cast<int>(json.at("events").whole(0, most_events));
  if (json.at("for_all_time").truth()) verdict.proof.emplace();
  if (const auto run = json.maybe("run")) {
    const Model& played = played_on();
    verdict.run = read_raw_run(*run, played);
    confirm_raw_run(*run, played, *verdict.run, played.claims[verdict.claim].watch);
  }
  check_run(json, verdict, names.model());
  return verdict;
}

Json json_raw_answer(const Model& model, const solver::CaseAnswer& answer) {
  Json json{{"looked_at", answer.looked_at}};
  if (answer.no_run_of) json["no_run_of"] = *answer.no_run_of;
  json["verdicts"] = Json::array();
  for (const solver::Verdict& verdict : answer.verdicts) {
    json["verdicts"].push_back(json_raw_verdict(model, verdict));
  }
  return json;
}

solver::CaseAnswer read_raw_answer(const Strict& json, const ClaimNames& names,
                                   const std::function<const Model&()>& played_on) {
  json.only({"looked_at", "no_run_of", "verdicts", "fault", "faults"});
  solver::CaseAnswer answer{.looked_at = json.at("looked_at").truth()};
  if (const auto ticks = json.maybe("no_run_of")) answer.no_run_of = ticks->whole(1, most_ticks_known);
  for (const Strict& one : json.at("verdicts").items()) {
    answer.verdicts.push_back(read_raw_verdict(one, names, played_on));
    const std::size_t count = answer.verdicts.size();
    if (count > 1 && answer.verdicts[count - 2].claim >= answer.verdicts[count - 1].claim) {
      one.refuse("is out of order, or there twice");
    }
  }
  return answer;
}

}  // namespace detent::cli
