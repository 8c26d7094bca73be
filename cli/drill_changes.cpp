// First every changed design is moved by the list that is there already, which is cheap. What is not told
// apart goes to the engine, in two questions: whether any run tells it at all (changed design and original
// side by side, on the same hands, under the original's assumptions: whoever works through the list keeps to
// those), and which way on from where the list ends does. The way that makes the difference last is looked
// for first.
#include "cli/drill_changes.hpp"

#include <algorithm>
#include <map>
#include <utility>

#include "cli/player.hpp"
#include "dsl/side_by_side.hpp"
#include "dsl/slip_list.hpp"
#include "solver/forever.hpp"

namespace detent::cli {
namespace {

using dsl::NodeId;
using Fate = DrilledChange::Fate;

/// The study's shown signals in another model, by name.
std::vector<NodeId> nodes_in(const DrillStudy& study, const dsl::Model& other) {
  std::vector<NodeId> nodes;
  for (const std::uint32_t shown : study.shown) {
    const auto found = std::find_if(
        other.signals.begin(), other.signals.end(),
        [&](const dsl::Signal& signal) { return signal.name == study.model.signals[shown].name; });
    if (found == other.signals.end())
      throw solver::InternalDisagreement{"a changed design has lost an element"};
    nodes.push_back(found->node);
  }
  return nodes;
}

/// The original and a changed design, moved alike; `differs` is a node of it.
struct Pair {
  dsl::Model model;
  NodeId differs = dsl::no_node;
  NodeId lasts = dsl::no_node;  ///< for as long as people need to see it
};

Pair side_by_side(const DrillStudy& study, const dsl::Model& original, const dsl::Model& changed) {
  const auto match = dsl::match_signals(original, changed, {});
  if (!std::holds_alternative<dsl::Match>(match)) {
    throw solver::InternalDisagreement{"a changed design can't be compared with the original"};
  }
  dsl::SideBySide both = dsl::put_side_by_side(original, changed, std::get<dsl::Match>(match));
  dsl::Circuit& circuit = both.model.circuit;
  NodeId differs = circuit.truth(false);
  for (const dsl::Compared& compared : both.compared) {
    const std::string& name = original.signals[compared.pair.a].name;
    const bool shown = std::any_of(study.shown.begin(), study.shown.end(), [&](std::uint32_t index) {
      return study.model.signals[index].name == name;
    });
    for (const dsl::Compared::Way& way : compared.ways) {
      if (shown) differs = circuit.or_(differs, way.node);
    }
  }
  const NodeId alike_ago = circuit.age(circuit.not_(differs), true);
  const NodeId lasts = circuit.not_(circuit.age_at_most(alike_ago, pause_ticks(original) - 1));
  both.model.constraints = both.constraints_of[dsl::side_a];
  static_cast<void>(circuit.finish());
  return {std::move(both.model), differs, lasts};
}

/// Whether what the list says of this tick is so however a hand times its steps.
bool can_be_relied_on(const SheetRound& sheet, Value tick) {
  const DrillStep* at = &sheet.steps.front();
  for (const DrillStep& step : sheet.steps) {
    if (step.tick <= tick) at = &step;
  }
  return !at->hangs_on_exact;
}

class Changes {
 public:
  Changes(DrillStudy& study, DrillRounds& rounds, const dsl::Compiled& compiled, CaseRunner& cases,
          const solver::CaseOptions& options, const StudyProgress& progress)
      : study_(study),
        rounds_(rounds),
        compiled_(compiled),
        cases_(cases),
        options_(options),
        progress_(progress) {}

  void run() {
    for (dsl::Alteration& what : dsl::list_slips(*compiled_.design, compiled_.sources)) {
      study_.changes.push_back({.fate = Fate::undecided, .what = std::move(what)});
      models_.push_back(
          lowered(dsl::altered(*compiled_.design, study_.changes.back().what), compiled_.sources));
    }
    for (std::size_t round = 0; round < study_.rounds.size(); ++round) look(round);
    const std::vector<std::size_t> telling = ask_what_can_be_told();
    std::size_t done = 0;
    for (const std::size_t change : telling) {
      if (progress_) progress_(done++, telling.size());
      if (stopped()) return;
      if (study_.changes[change].fate == Fate::recorded) make_visible(change);
      if (!is_told(change)) tell(change);
    }
  }

 private:
  [[nodiscard]] bool is_told(std::size_t change) const {
    const Fate fate = study_.changes[change].fate;
    return fate == Fate::seen || fate == Fate::recorded;
  }
  [[nodiscard]] bool stopped() const { return rounds_.stopped() || options_.cancel.requested(); }

  /// What this round tells apart.
  void look(std::size_t round) {
    const SheetRound sheet = drill_steps(study_, study_.rounds[round]);
    for (std::size_t change = 0; change < models_.size(); ++change) {
      DrilledChange& one = study_.changes[change];
      if (one.fate == Fate::seen) continue;
      const auto told = told_by(study_, models_[change], study_.rounds[round].run, sheet);
      if (!told || (is_told(change) && told->fate != Fate::seen)) continue;
      one.fate = told->fate;
      one.round = round;
      one.tick = told->tick;
    }
  }

  std::vector<std::size_t> ask_what_can_be_told() {
    std::vector<std::size_t> untold, telling;
    for (std::size_t change = 0; change < models_.size(); ++change) {
      if (study_.changes[change].fate != Fate::seen) untold.push_back(change);
    }
    const std::vector<solver::CaseAnswer> answers = cases_.ask(untold.size(), [&](std::size_t index) {
      return case_of(side_by_side(study_, *compiled_.model, models_[untold[index]]));
    });
    for (std::size_t index = 0; index < untold.size(); ++index) {
      if (is_told(untold[index])) telling.push_back(untold[index]);
      if (answers[index].verdicts.empty() || is_told(untold[index])) continue;
      const solver::Outcome outcome = answers[index].verdicts.front().outcome;
      if (outcome == solver::Outcome::proved) study_.changes[untold[index]].fate = Fate::no_effect;
      if (outcome == solver::Outcome::refuted) study_.changes[untold[index]].fate = Fate::missed;
      if (outcome == solver::Outcome::refuted) telling.push_back(untold[index]);
    }
    return telling;
  }

  static solver::Case case_of(Pair pair) {
    dsl::Claim claim;
    claim.name = "the same";
    claim.watch = pair.differs;
    claim.first.node = pair.differs;
    pair.model.claims = {std::move(claim)};
    return {std::move(pair.model), {0}};
  }

  void tell(std::size_t change) {
    const Pair pair = side_by_side(study_, *compiled_.model, models_[change]);
    const bool told = rounds_.go_to(pair.model, pair.lasts, {.steps = 7, .patience_ms = 1000}) ||
                      rounds_.go_to(pair.model, pair.differs, {.steps = 12, .patience_ms = 3000}) ||
                      (!stopped() && without_regard_to_hands(pair));
    if (told) look(study_.rounds.size() - 1);
  }

  /// One try to let a person see what so far only a recording shows; the list stays as it is where that
  /// fails.
  void make_visible(std::size_t change) {
    const std::vector<DrillRound> rounds = study_.rounds;
    const std::vector<DrilledChange> changes = study_.changes;
    const std::vector<DrillGoal> goals = study_.goals;
    const Pair pair = side_by_side(study_, *compiled_.model, models_[change]);
    if (rounds_.go_to(pair.model, pair.lasts, {.steps = 7, .patience_ms = 1000}))
      look(study_.rounds.size() - 1);
    if (study_.changes[change].fate == Fate::seen) return;
    study_.rounds = rounds;
    study_.changes = changes;
    study_.goals = goals;
  }

  bool without_regard_to_hands(const Pair& pair) {
    solver::Case one = case_of(pair);
    const solver::Report report = solver::check_forever(one.model, {.timeout = options_.timeout,
                                                                    .memory_mib = options_.memory_mib,
                                                                    .cancel = options_.cancel,
                                                                    .side_findings = false});
    if (report.verdicts.empty() || !report.verdicts.front().run) return false;
    rounds_.add({.run = *report.verdicts.front().run, .origin = "", .by_hand = false});
    return true;
  }

  DrillStudy& study_;
  DrillRounds& rounds_;
  const dsl::Compiled& compiled_;
  CaseRunner& cases_;
  const solver::CaseOptions& options_;
  const StudyProgress& progress_;
  std::vector<dsl::Model> models_;  ///< by change
};

}  // namespace

std::optional<Told> told_by(const DrillStudy& study, const dsl::Model& changed, const solver::Run& run,
                            const SheetRound& sheet) {
  std::optional<Told> told;
  for (const Difference& found : differences(study, changed, run)) {
    const bool by_eye = found.ticks >= pause_ticks(study.model) && can_be_relied_on(sheet, found.tick);
    if (by_eye) return Told{Fate::seen, found.tick};
    if (!told) told = Told{Fate::recorded, found.tick};
  }
  return told;
}

std::vector<Difference> differences(const DrillStudy& study, const dsl::Model& other,
                                    const solver::Run& run) {
  const std::vector<NodeId> nodes = nodes_in(study, other);
  Player one(study.model), two(other);
  std::vector<Difference> found;
  bool same_before = true;
  std::size_t begin = 0;
  for (const solver::Rows::Stretch& stretch : run.inputs.stretches()) {
    for (auto tick = static_cast<Value>(begin); tick < static_cast<Value>(stretch.end);) {
      one.step(stretch.row);
      two.step(stretch.row);
      const Value left = static_cast<Value>(stretch.end) - tick - 1;
      const Value quiet = std::min(one.quiet(left), two.quiet(left));
      one.pass(quiet);
      two.pass(quiet);
      bool same = true;
      for (std::size_t index = 0; index < nodes.size(); ++index) {
        const NodeId node = study.model.signals[study.shown[index]].node;
        same = same && one.values()[node] == two.values()[nodes[index]];
      }
      if (!same && same_before) found.push_back({.tick = tick, .ticks = 0});
      if (!same) found.back().ticks += 1 + quiet;
      same_before = same;
      tick += 1 + quiet;
    }
    begin = stretch.end;
  }
  return found;
}

void drill_changes(DrillStudy& study, DrillRounds& rounds, const dsl::Compiled& compiled, CaseRunner& cases,
                   const solver::CaseOptions& options, const StudyProgress& progress) {
  Changes(study, rounds, compiled, cases, options, progress).run();
}

}  // namespace detent::cli
