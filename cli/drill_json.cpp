#include <fmt/format.h>

#include <algorithm>

#include "cli/drill_words.hpp"
#include "cli/json_parts.hpp"

namespace detent::cli {
namespace {

const char* fate_word(GoalFate fate) {
  switch (fate) {
    case GoalFate::met:
      return "met";
    case GoalFate::never:
      return "never";
    case GoalFate::undecided:
      return "undecided";
  }
  return "";
}

const char* fate_word(DrilledChange::Fate fate) {
  switch (fate) {
    case DrilledChange::Fate::seen:
      return "seen";
    case DrilledChange::Fate::recorded:
      return "recorded";
    case DrilledChange::Fate::no_effect:
      return "no_effect";
    case DrilledChange::Fate::missed:
      return "missed";
    case DrilledChange::Fate::undecided:
      return "undecided";
  }
  return "";
}

Json json_step(const dsl::Model& model, const DrillStep& step) {
  Json moves = Json::object();
  for (const auto& [signal, value] : step.moves)
    moves[model.signals[signal].name] = json_value(model.signals[signal], value);
  Json expected = Json::array();
  for (const Expectation& one : step.expectations) {
    expected.push_back({{"after", one.after},
                        {"signal", model.signals[one.signal].name},
                        {"value", json_value(model.signals[one.signal], one.value)},
                        {"changed", one.changed}});
  }
  return {
      {"tick", step.tick},         {"until", step.until},           {"last", step.last},
      {"moves", std::move(moves)}, {"expect", std::move(expected)}, {"many_hands", step.many_hands},
      {"hasty", step.hasty},       {"exact", step.exact},           {"hangs_on_exact", step.hangs_on_exact}};
}

Json json_rounds(const DrillReport& report) {
  Json rounds = Json::array();
  for (std::size_t index = 0; index < report.sheet.size(); ++index) {
    const DrillRound& round = report.study.rounds[index];
    Json steps = Json::array();
    for (const DrillStep& step : report.sheet[index].steps)
      steps.push_back(json_step(report.study.model, step));
    rounds.push_back({{"origin", round.origin},
                      {"by_hand", round.by_hand},
                      {"ticks", round.run.ticks()},
                      {"steps", std::move(steps)}});
  }
  return rounds;
}

const char* kind_word(DrillGoal::Kind kind) {
  switch (kind) {
    case DrillGoal::Kind::claim:
      return "claim";
    case DrillGoal::Kind::point:
      return "point";
    case DrillGoal::Kind::decision:
      return "decision";
  }
  return "";
}

Json json_goals(const DrillStudy& study) {
  Json goals = Json::array();
  for (const DrillGoal& goal : study.goals) {
    if (goal.kind == DrillGoal::Kind::decision) continue;
    Json json{{"kind", kind_word(goal.kind)}, {"words", goal.words}, {"fate", fate_word(goal.fate)}};
    if (goal.fate == GoalFate::met) {
      json["round"] = goal.round;
      json["tick"] = goal.tick;
    }
    goals.push_back(std::move(json));
  }
  return goals;
}

Json json_decisions(const DrillReport& report) {
  Json decisions = Json::array();
  for (const DrilledDecision& decision : report.study.decisions) {
    Json valuations = Json::array();
    for (const solver::Valuation valuation : decision.valuations) {
      Json values = Json::array();
      for (std::size_t bit = 0; bit < decision.conditions.size(); ++bit)
        values.push_back((valuation >> bit & 1U) != 0);
      valuations.push_back(std::move(values));
    }
    decisions.push_back({{"element", decision.element},
                         {"text", decision.text},
                         {"place", json_place(report.compiled.sources, decision.place)},
                         {"conditions", decision.conditions},
                         {"valuations", std::move(valuations)},
                         {"shown", decision.shown},
                         {"never", decision.never},
                         {"undecided", decision.undecided},
                         {"smallest", decision.smallest}});
  }
  return decisions;
}

Json json_changes(const DrillReport& report) {
  Json changes = Json::array();
  for (const DrilledChange& change : report.study.changes) {
    Json json{{"name", change.what.name},
              {"place", json_place(report.compiled.sources, change.what.place)},
              {"fate", fate_word(change.fate)}};
    if (change.fate == DrilledChange::Fate::seen || change.fate == DrilledChange::Fate::recorded) {
      json["round"] = change.round;
      json["tick"] = change.tick;
    }
    changes.push_back(std::move(json));
  }
  return changes;
}

}  // namespace

Status status_of(const DrillReport& report) {
  const DrillStudy& study = report.study;
  const bool open =
      study.stopped ||
      std::any_of(study.goals.begin(), study.goals.end(),
                  [](const DrillGoal& goal) {
                    return goal.kind != DrillGoal::Kind::decision && goal.fate == GoalFate::undecided;
                  }) ||
      std::any_of(study.decisions.begin(), study.decisions.end(),
                  [](const DrilledDecision& decision) { return !decision.undecided.empty(); }) ||
      std::any_of(study.changes.begin(), study.changes.end(), [](const DrilledChange& change) {
        return change.fate == DrilledChange::Fate::undecided || change.fate == DrilledChange::Fate::missed;
      });
  return open ? Status::undecided : Status::all_hold;
}

std::string drill_json(const DrillReport& report, Status status) {
  Json json = json_head(status, report.file, report.compiled);
  if (!report.compiled.model || report.sheet.empty()) return json_print(json);
  Json cautions{{"before", cautions_before()}, {"after", cautions_after()}};
  json["cautions"] = std::move(cautions);
  json["variant"] = report.variant == solver::Mcdc::unique_cause ? "unique_cause" : "masking";
  json["movements"] = movements_of(report.sheet);
  json["stopped"] = report.study.stopped;
  json["rounds"] = json_rounds(report);
  json["goals"] = json_goals(report.study);
  json["decisions"] = json_decisions(report);
  json["changes"] = json_changes(report);
  return json_print(json);
}

}  // namespace detent::cli
