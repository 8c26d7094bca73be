#include "cli/drill_sheet.hpp"

#include <algorithm>
#include <utility>

#include "cli/drill_timing.hpp"
#include "solver/onward.hpp"

namespace detent::cli {
namespace {

using dsl::Model;

class SheetMaker {
 public:
  explicit SheetMaker(const DrillStudy& study)
      : study_(study), model_(study.model), moved_by_(solver::hands_of(study.model)) {
    for (std::uint32_t index = 0; index < model_.signals.size(); ++index) {
      if (model_.signals[index].role == dsl::SignalRole::hand) hands_.push_back(index);
    }
  }

  SheetRound make(const DrillRound& round) {
    SheetRound sheet{.steps = {}, .hands = by_changes(round.run)};
    hand_values_.clear();
    shown_values_.clear();
    play(model_, sheet.hands, [&](const std::vector<Value>& values, Value tick, Value count) {
      look(sheet.steps, values, tick);
      sheet.steps.back().last = tick + count - 1;
      return true;
    });
    mark_timing(study_, sheet);
    return sheet;
  }

 private:
  [[nodiscard]] std::size_t hand_of(std::uint32_t signal) const {
    return moved_by_[model_.signals[signal].input];
  }

  [[nodiscard]] std::vector<Value> values_of(const std::vector<std::uint32_t>& signals,
                                             const std::vector<Value>& values) const {
    std::vector<Value> result;
    for (const std::uint32_t signal : signals) result.push_back(values[model_.signals[signal].node]);
    return result;
  }

  void look(std::vector<DrillStep>& steps, const std::vector<Value>& values, Value tick) {
    const std::vector<Value> hands = values_of(hands_, values);
    const std::vector<Value> shown = values_of(study_.shown, values);
    if (hands != hand_values_) move(steps, hands, tick);
    DrillStep& step = steps.back();
    for (std::size_t index = 0; index < shown.size(); ++index) {
      const bool changed = shown_values_.empty() || shown[index] != shown_values_[index];
      if (changed || tick == step.tick) {
        step.expectations.push_back({tick - step.tick, study_.shown[index], shown[index], changed});
      }
    }
    hand_values_ = hands;
    shown_values_ = shown;
  }

  void move(std::vector<DrillStep>& steps, const std::vector<Value>& hands, Value tick) {
    DrillStep step{.tick = tick, .until = tick};
    for (std::size_t index = 0; index < hands.size(); ++index) {
      if (hand_values_.empty() || hands[index] != hand_values_[index]) {
        step.moves.emplace_back(hands_[index], hands[index]);
      }
    }
    if (!steps.empty()) {
      DrillStep& before = steps.back();
      const bool goes_on = before.tick > 0 && step.moves.size() == 1 && before.moves.size() == 1 &&
                           before.until + 1 == tick && before.moves.front().first == step.moves.front().first;
      if (goes_on) {
        before.until = tick;
        before.moves = std::move(step.moves);
        return;
      }
      step.many_hands = std::any_of(step.moves.begin(), step.moves.end(), [&](const auto& one) {
        return hand_of(one.first) != hand_of(step.moves.front().first);
      });
      step.hasty = tick - before.until < pause_ticks(model_);
    }
    steps.push_back(std::move(step));
  }

  const DrillStudy& study_;
  const Model& model_;
  std::vector<std::size_t> moved_by_;
  std::vector<std::uint32_t> hands_;
  std::vector<Value> hand_values_, shown_values_;
};

}  // namespace

SheetRound drill_steps(const DrillStudy& study, const DrillRound& round) {
  return SheetMaker(study).make(round);
}

std::vector<SheetRound> drill_sheet(const DrillStudy& study) {
  SheetMaker maker(study);
  std::vector<SheetRound> sheet;
  for (const DrillRound& round : study.rounds) sheet.push_back(maker.make(round));
  return sheet;
}

std::size_t movements_of(const std::vector<SheetRound>& sheet) {
  std::size_t count = 0;
  for (const SheetRound& round : sheet) count += round.steps.size() - 1;
  return count;
}

}  // namespace detent::cli
