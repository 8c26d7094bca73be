#include "cli/drill_prune.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <utility>

#include "cli/drill_changes.hpp"
#include "solver/interpreter.hpp"

namespace detent::cli {
namespace {

/// What a round shows: things by number, and how well (2: a person sees it, else 1), with the tick.
struct Shown {
  int rank = 0;
  Value tick = 0;
};
using Shows = std::map<std::size_t, Shown>;

class Pruner {
 public:
  Pruner(DrillStudy& study, const std::vector<OpenDecision>& decisions, const dsl::Compiled& compiled)
      : study_(study), decisions_(decisions), compiled_(compiled) {}

  void run() {
    for (const DrillRound& round : study_.rounds) shows_.push_back(look(round));
    add_changes();
    std::vector<std::size_t> order(study_.rounds.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    // The longest first, as it spares most.
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return study_.rounds[a].run.inputs.stretches().size() > study_.rounds[b].run.inputs.stretches().size();
    });
    kept_.assign(study_.rounds.size(), true);
    for (const std::size_t round : order) {
      if (study_.rounds[round].origin.empty() && is_needless(round)) kept_[round] = false;
    }
    leave_out();
  }

 private:
  [[nodiscard]] std::size_t first_valuation() const { return study_.goals.size(); }

  Shows look(const DrillRound& round) const {
    const solver::Trace trace = solver::replay(study_.model.circuit, round.run);
    Shows shows;
    for (std::size_t goal = 0; goal < study_.goals.size(); ++goal) {
      const DrillGoal& one = study_.goals[goal];
      if (one.kind == DrillGoal::Kind::decision) continue;
      if (const auto tick = met_in(trace, one)) shows[goal] = {1, *tick};
    }
    for (const solver::Trace::Moment& moment : trace.moments()) {
      std::size_t base = first_valuation();
      for (const OpenDecision& decision : decisions_) {
        const solver::Valuation valuation = valuation_in(decision, moment);
        const auto& set = decision.set.valuations;
        if (std::find(set.begin(), set.end(), valuation) != set.end()) shows[base + valuation] = {1, 0};
        base += decision.function.outcome.size();
      }
    }
    return shows;
  }

  void add_changes() {
    first_change_ = first_valuation();
    for (const OpenDecision& decision : decisions_) first_change_ += decision.function.outcome.size();
    std::vector<SheetRound> sheet = drill_sheet(study_);
    for (std::size_t change = 0; change < study_.changes.size(); ++change) {
      const dsl::Model changed =
          lowered(dsl::altered(*compiled_.design, study_.changes[change].what), compiled_.sources);
      for (std::size_t round = 0; round < study_.rounds.size(); ++round) {
        const auto told = told_by(study_, changed, study_.rounds[round].run, sheet[round]);
        if (told)
          shows_[round][first_change_ + change] = {told->fate == DrilledChange::Fate::seen ? 2 : 1,
                                                   told->tick};
      }
    }
  }

  [[nodiscard]] bool is_needless(std::size_t round) const {
    return std::all_of(shows_[round].begin(), shows_[round].end(), [&](const auto& thing) {
      for (std::size_t other = 0; other < shows_.size(); ++other) {
        if (other == round || !kept_[other]) continue;
        const auto found = shows_[other].find(thing.first);
        if (found != shows_[other].end() && found->second.rank >= thing.second.rank) return true;
      }
      return false;
    });
  }

  void leave_out() {
    std::vector<DrillRound> rounds;
    std::vector<Shows> shows;
    for (std::size_t round = 0; round < kept_.size(); ++round) {
      if (!kept_[round]) continue;
      rounds.push_back(std::move(study_.rounds[round]));
      shows.push_back(std::move(shows_[round]));
    }
    study_.rounds = std::move(rounds);
    const auto tell = [&](std::size_t thing, auto& one) {
      int best = 0;
      for (std::size_t round = 0; round < shows.size(); ++round) {
        const auto found = shows[round].find(thing);
        if (found == shows[round].end() || found->second.rank <= best) continue;
        best = found->second.rank;
        one.round = round;
        one.tick = found->second.tick;
      }
      return best;
    };
    for (std::size_t goal = 0; goal < study_.goals.size(); ++goal) tell(goal, study_.goals[goal]);
    for (std::size_t change = 0; change < study_.changes.size(); ++change) {
      const int rank = tell(first_change_ + change, study_.changes[change]);
      if (rank > 0) {
        study_.changes[change].fate = rank == 2 ? DrilledChange::Fate::seen : DrilledChange::Fate::recorded;
      }
    }
  }

  DrillStudy& study_;
  const std::vector<OpenDecision>& decisions_;
  const dsl::Compiled& compiled_;
  std::vector<Shows> shows_;
  std::vector<bool> kept_;
  std::size_t first_change_ = 0;
};

}  // namespace

void prune(DrillStudy& study, const std::vector<OpenDecision>& decisions, const dsl::Compiled& compiled) {
  Pruner(study, decisions, compiled).run();
}

}  // namespace detent::cli
