// The JSON report of a comparison. Numbers are exact integers throughout; runs are written with the signals
// of both designs, by the names that they have side by side.
#include "cli/compare_json.hpp"

#include "cli/json_parts.hpp"
#include "cli/json_run.hpp"

namespace detent::cli {
namespace {

using dsl::Parting;
using dsl::side_a;
using dsl::side_b;
using solver::Figure;
using solver::FigureKind;
using solver::Outcome;
using solver::Verdict;

constexpr const char* side_name[] = {"a", "b"};

Json json_design(const CompareResult& result, std::size_t side) {
  Json json{{"file", result.files[side]}, {"diagnostics", json_diagnostics(result.compiled[side])}};
  if (result.compiled[side].model) json["title"] = result.model(side).title;
  return json;
}

Json json_pair(const CompareResult& result, const dsl::SignalPair& pair) {
  return {{"a", result.model(side_a).signals[pair.a].name}, {"b", result.model(side_b).signals[pair.b].name}};
}

Json json_alone(const CompareResult& result, std::size_t side) {
  Json names = Json::array();
  for (const std::uint32_t index : result.both->match.alone[side]) {
    names.push_back(result.model(side).signals[index].name);
  }
  return names;
}

Json json_match(const CompareResult& result) {
  const dsl::Match& match = result.both->match;
  Json inputs = Json::array();
  for (const dsl::SignalPair& pair : match.hands) inputs.push_back(json_pair(result, pair));
  Json unlike = Json::array();
  for (const dsl::Match::Unlike& one : match.unlike) {
    Json json = json_pair(result, one.pair);
    json["reason"] = one.reason;
    unlike.push_back(std::move(json));
  }
  return {{"inputs", std::move(inputs)},
          {"not_comparable", std::move(unlike)},
          {"only_a", json_alone(result, side_a)},
          {"only_b", json_alone(result, side_b)}};
}

Json json_shared_signals(const CompareResult& result) {
  Json all = Json::array();
  for (const dsl::Signal& signal : result.both->model.signals) all.push_back(json_signal(signal));
  return all;
}

// ---- Answers ----

/// What is known of whether some run does it.
Json json_answer(const CompareResult& result, const Verdict& verdict) {
  Json json{{"outcome", outcome_word(verdict.outcome)},
            {"for_all_time", verdict.proof.has_value()},
            {"limit", limit_word(verdict.limit)}};
  if (verdict.events > 0) json["events"] = verdict.events;
  if (verdict.run) json["run"] = json_run(result.both->model, *verdict.run);
  return json;
}

const char* parting_word(Parting parting) {
  switch (parting) {
    case Parting::a_above:
      return "a_above_b";
    case Parting::b_above:
      return "b_above_a";
    case Parting::differ:
      return "differ";
  }
  return "";
}

const char* found_word(const Verdict& verdict) {
  if (verdict.outcome == Outcome::shown) return "found";
  return verdict.outcome == Outcome::refuted ? "never" : "undecided";
}

Json json_signals(const CompareResult& result) {
  Json all = Json::array();
  for (const solver::SignalAnswer& answer : result.comparison->signals) {
    Json json = json_pair(result, result.both->compared[answer.compared].pair);
    json["same"] = answer.same();
    json["partings"] = Json::array();
    for (const solver::PartingAnswer& one : answer.partings) {
      Json parting = json_answer(result, one.verdict);
      parting["outcome"] = found_word(one.verdict);
      parting["way"] = parting_word(one.parting);
      json["partings"].push_back(std::move(parting));
    }
    all.push_back(std::move(json));
  }
  return all;
}

Json json_claims(const CompareResult& result) {
  Json all = Json::array();
  for (std::size_t row = 0; row < result.claims.size(); ++row) {
    const ComparedClaim& claim = result.claims[row];
    Json json{{"claim", claim.name}, {"doc", claim.doc}, {"text", claim.text}};
    json["worded_by"] = claim.worded_by ? Json(side_name[*claim.worded_by]) : Json(nullptr);
    for (const std::size_t side : {side_a, side_b}) {
      const auto& verdict = result.comparison->claims[row][side];
      json[side_name[side]] =
          verdict ? json_answer(result, *verdict) : Json{{"not_asked", claim.why_not[side]}};
      if (verdict) json[side_name[side]]["vacuous"] = verdict->vacuous;
    }
    all.push_back(std::move(json));
  }
  return all;
}

// ---- Figures ----

Json json_condition(const ComparedCondition& condition) {
  Json json = Json::object();
  for (const std::size_t side : {side_a, side_b}) {
    json[side_name[side]] = condition.why_not[side].empty() ? Json{{"text", condition.text[side]}}
                                                            : Json{{"why_not", condition.why_not[side]}};
  }
  return json;
}

const char* kind_word(FigureKind kind) {
  switch (kind) {
    case FigureKind::movements_to_goal:
      return "movements_to_goal";
    case FigureKind::slips_to_goal:
      return "inputs_moved_to_goal";
    case FigureKind::time_to_goal:
      return "ticks_to_goal";
    case FigureKind::movements_to_lock:
      return "movements_to_goal_off";
    case FigureKind::time_to_rest:
      return "ticks_from_lock_to_rest";
  }
  return "";
}

const char* state_word(Figure::State state) {
  switch (state) {
    case Figure::State::exact:
      return "exact";
    case Figure::State::none:
      return "never";
    case Figure::State::endless:
      return "endless";
    case Figure::State::undecided:
      return "undecided";
    case Figure::State::left_out:
      return "left_out";
  }
  return "";
}

Json json_figure(const CompareResult& result, const Figure& figure) {
  Json json{{"state", state_word(figure.state)}, {"limit", limit_word(figure.limit)}};
  const bool valued =
      figure.state == Figure::State::exact || (figure.state == Figure::State::undecided && figure.run);
  if (valued) json["value"] = figure.value;
  if (figure.state == Figure::State::undecided) json["at_least"] = figure.floor;
  if (figure.run) json["run"] = json_run(result.both->model, *figure.run);
  return json;
}

Json json_figures(const CompareResult& result) {
  const auto& [a, b] = result.comparison->figures;
  Json all = Json::array();
  for (std::size_t index = 0; index < a.size(); ++index) {
    all.push_back({{"figure", kind_word(a[index].kind)},
                   {"a", json_figure(result, a[index])},
                   {"b", json_figure(result, b[index])}});
  }
  return all;
}

void add_comparison(Json& json, const CompareResult& result) {
  const solver::Comparison& comparison = *result.comparison;
  if (comparison.contradiction) {
    const auto& side = comparison.contradiction->side;
    json["no_run_of"] = {{"ticks", comparison.contradiction->ticks},
                         {"assumed_by", side ? side_name[*side] : "both"},
                         {"contradicting", comparison.contradiction->names}};
    return;
  }
  json["compared"] = json_signals(result);
  json["claims"] = json_claims(result);
  json["conditions"] = {{"goal", json_condition(result.goal)},
                        {"lock", json_condition(result.lock)},
                        {"rest", json_condition(result.rest)}};
  json["figures"] = json_figures(result);
  json["statistics"] = json_statistics(comparison.statistics);
}

}  // namespace

std::string compare_json_text(const CompareResult& result) {
  Json json = json_head(status_of(result));
  json["a"] = json_design(result, side_a);
  json["b"] = json_design(result, side_b);
  if (result.both) {
    json["tick_us"] = result.both->model.tick_us;
    json["match"] = json_match(result);
    json["signals"] = json_shared_signals(result);
  }
  if (result.comparison) add_comparison(json, result);
  return json_print(json);
}

}  // namespace detent::cli
