#include "cli/drill_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;

std::string capital(std::string words) {
  if (!words.empty() && words.front() >= 'a' && words.front() <= 'z') {
    words.front() = static_cast<char>(words.front() - 'a' + 'A');
  }
  return words;
}

class Lines {
 public:
  explicit Lines(const DrillReport& report) : model_(report.study.model), report_(report) {}

  DrillSection section(std::size_t index) const {
    const DrillRound& round = report_.study.rounds[index];
    DrillSection section{.title = fmt::format("Round {}", index + 1), .note = {}, .lines = {}};
    if (!round.origin.empty()) section.note = fmt::format("The run in {}.", round.origin);
    if (!round.by_hand) section.note = "Found without regard to what hands can do: look at the marks.";
    const std::vector<DrillStep>& steps = report_.sheet[index].steps;
    for (std::size_t step = 0; step < steps.size(); ++step) {
      section.lines.push_back(line(steps[step], step, step == 0 ? nullptr : &steps[step - 1]));
      section.lines.back().number = fmt::format("{}.{}", index + 1, step);
    }
    return section;
  }

 private:
  [[nodiscard]] std::string time(Value ticks) const { return seconds_words(ticks, model_.tick_us); }

  DrillLine line(const DrillStep& step, std::size_t index, const DrillStep* before) const {
    DrillLine line{.number = {}, .when = time(step.tick), .doing = {}, .expected = {}, .mark = {}};
    if (index == 0) {
      line.doing.emplace_back("Power off. Put everything in place:");
    } else {
      line.doing.push_back(fmt::format("Wait {}, then:", time(step.tick - before->until)));
    }
    for (const auto& [signal, value] : step.moves)
      line.doing.push_back(doing(step, index, model_.signals[signal], value));
    if (index == 0) line.doing.emplace_back("Power on.");
    for (const Expectation& one : without_ways(step.expectations)) line.expected.push_back(expected(one));
    if (step.many_hands) line.mark = "several things in one moment: a person can't do that for sure";
    const auto add = [&](const char* words) {
      line.mark += (line.mark.empty() ? "" : "; ") + std::string(words);
    };
    if (step.hasty) add("less than 200 ms after the step before: a person can't do that for sure");
    if (step.exact) {
      add("the moment counts: 0.1 s sooner or later, something else may follow. Time it by a machine, or try "
          "it more than "
          "once");
    }
    return line;
  }

  /// A level that goes on from tick to tick is told by where it gets to.
  [[nodiscard]] std::vector<Expectation> without_ways(const std::vector<Expectation>& all) const {
    std::vector<Expectation> told;
    for (const Expectation& next : all) {
      const auto same = std::find_if(told.rbegin(), told.rend(),
                                     [&](const Expectation& one) { return one.signal == next.signal; });
      const bool level = model_.signals[next.signal].sort.kind == dsl::SortKind::level;
      const bool goes_on = level && same != told.rend() && same->after > 0 && same->after + 1 == next.after;
      if (goes_on) told.erase(std::next(same).base());
      told.push_back(next);
    }
    return told;
  }

  std::string doing(const DrillStep& step, std::size_t index, const dsl::Signal& signal, Value value) const {
    if (index == 0) {
      const bool choice = model_.power_up_choice && &model_.signals[*model_.power_up_choice] == &signal;
      if (choice)
        return fmt::format("(The list takes it that {} at power-up are {}.)", "edges",
                           dsl::to_text(value, signal.sort));
      return capital(hand_words(signal, value, false)) + ".";
    }
    std::string words = moves_by_itself(signal) ? fate_words(signal, value) : move_words(signal, value);
    if (moves_by_itself(signal)) words = "let it be that " + words;
    if (step.until > step.tick) words += fmt::format(", slowly, in {}", time(step.until - step.tick + 1));
    return capital(words) + ".";
  }

  [[nodiscard]] std::string expected(const Expectation& one) const {
    const dsl::Signal& signal = model_.signals[one.signal];
    if (one.after == 0)
      return fmt::format("At once: {}{}", one.changed ? "" : "still ", said(signal, one.value));
    return fmt::format("After {}: {}", time(one.after), said(signal, one.value));
  }

  static std::string said(const dsl::Signal& signal, Value value) {
    return fmt::format("{} {}", signal.name, dsl::to_text(value, signal.sort));
  }

  const Model& model_;
  const DrillReport& report_;
};

std::size_t count_fate(const DrillStudy& study, GoalFate fate) {
  return static_cast<std::size_t>(std::count_if(
      study.goals.begin(), study.goals.end(),
      [&](const DrillGoal& goal) { return goal.kind != DrillGoal::Kind::decision && goal.fate == fate; }));
}

std::size_t count_fate(const DrillStudy& study, DrilledChange::Fate fate) {
  return static_cast<std::size_t>(std::count_if(study.changes.begin(), study.changes.end(),
                                                [&](const DrilledChange& one) { return one.fate == fate; }));
}

std::string matters(const DrilledDecision& decision, unsigned condition) {
  return fmt::format("'{}' in '{}' of {}", decision.conditions[condition], decision.text, decision.element);
}

}  // namespace

std::vector<DrillSection> drill_sections(const DrillReport& report) {
  const Lines lines(report);
  std::vector<DrillSection> sections;
  for (std::size_t round = 0; round < report.study.rounds.size(); ++round)
    sections.push_back(lines.section(round));
  return sections;
}

std::string drill_title(const DrillReport& report) {
  const std::string& title = report.study.model.title;
  return fmt::format("Bench list: {}", title.empty() ? report.file : title);
}

std::vector<std::string> cautions_before() {
  return {
      "Take the blade or propeller off before the first step, and leave it off until the last is done.",
      "Hold the machine fast, stand clear of what turns, and have a way to cut the power that is no part of "
      "the "
      "design.",
      "Stop where anything is not as expected: write down what was seen, cut the power, and find out why."};
}

std::vector<std::string> cautions_after() {
  return {
      "This list comes from the model in the text, not from your wiring, your radio or your firmware "
      "settings. That "
      "all steps are as expected does not prove the machine safe.",
      "Put everything to rest and cut the power before anybody puts a blade or propeller on.",
      "Local codes and licensed practice decide what is allowed."};
}

std::vector<std::string> drill_summary(const DrillReport& report) {
  const DrillStudy& study = report.study;
  std::size_t hard = 0, exact = 0;
  for (const SheetRound& round : report.sheet) {
    hard += static_cast<std::size_t>(
        std::count_if(round.steps.begin(), round.steps.end(),
                      [](const DrillStep& step) { return step.many_hands || step.hasty; }));
    exact += static_cast<std::size_t>(std::count_if(round.steps.begin(), round.steps.end(),
                                                    [](const DrillStep& step) { return step.exact; }));
  }
  std::vector<std::string> sentences;
  sentences.push_back(fmt::format("{} in {}, each beginning with power-up.",
                                  count_words(movements_of(report.sheet), "movement"),
                                  count_words(study.rounds.size(), "round")));
  if (hard > 0)
    sentences.push_back(fmt::format("{} marked as not for a person.",
                                    hard == 1 ? "1 step is" : fmt::format("{} steps are", hard)));
  if (exact > 0) {
    sentences.push_back(
        fmt::format("Of {} the moment counts to 0.1 s: marked too.", count_words(exact, "step")));
  }
  sentences.push_back(
      fmt::format("Things that elements, inputs and claims should go through: {} done, {} that no run "
                  "does (proved), {} undecided.",
                  count_fate(study, GoalFate::met), count_fate(study, GoalFate::never),
                  count_fate(study, GoalFate::undecided)));
  std::size_t shown = 0, never = 0, open = 0;
  for (const DrilledDecision& decision : study.decisions) {
    shown += decision.shown.size();
    never += decision.never.size();
    open += decision.undecided.size();
  }
  sentences.push_back(
      fmt::format("Conditions of {} shown to matter on their own ({}): {}; {} that no runs show "
                  "(proved), {} undecided.",
                  count_words(study.decisions.size(), "decision"),
                  report.variant == solver::Mcdc::unique_cause ? "unique-cause MC/DC" : "masking MC/DC",
                  shown, never, open));
  if (report.changes) {
    using Fate = DrilledChange::Fate;
    sentences.push_back(fmt::format(
        "Small changes of the design, each by itself, that the list would show: {} to a person, {} more to a "
        "recording "
        "(too short to see, or the moment counts); {} change nothing at any output (proved), {} missed, {} "
        "undecided.",
        count_fate(study, Fate::seen), count_fate(study, Fate::recorded), count_fate(study, Fate::no_effect),
        count_fate(study, Fate::missed), count_fate(study, Fate::undecided)));
  }
  if (study.stopped) sentences.emplace_back("It was stopped before it was done.");
  return sentences;
}

std::vector<DrillRemains> drill_remains(const DrillReport& report) {
  const DrillStudy& study = report.study;
  DrillRemains never{"What no run does (proved, for all time)", {}};
  DrillRemains open{"What is undecided", {}};
  DrillRemains quick{"Changes that only a recording shows", {}};
  DrillRemains missed{"Changes that some run shows, but not this list", {}};
  for (const DrillGoal& goal : study.goals) {
    if (goal.kind == DrillGoal::Kind::decision) continue;
    if (goal.fate == GoalFate::never) never.items.push_back(goal.words);
    if (goal.fate == GoalFate::undecided) open.items.push_back(goal.words);
  }
  for (const DrilledDecision& decision : study.decisions) {
    for (const unsigned condition : decision.never)
      never.items.push_back("that it matters alone: " + matters(decision, condition));
    for (const unsigned condition : decision.undecided)
      open.items.push_back("that it matters alone: " + matters(decision, condition));
  }
  for (const DrilledChange& change : study.changes) {
    if (change.fate == DrilledChange::Fate::recorded) quick.items.push_back(change.what.name);
    if (change.fate == DrilledChange::Fate::missed) missed.items.push_back(change.what.name);
    if (change.fate == DrilledChange::Fate::undecided)
      open.items.push_back("whether anything shows: " + change.what.name);
  }
  std::vector<DrillRemains> all;
  for (DrillRemains* one : {&never, &open, &quick, &missed}) {
    if (!one->items.empty()) all.push_back(std::move(*one));
  }
  return all;
}

}  // namespace detent::cli
