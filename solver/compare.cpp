// Everything becomes questions whether a condition can come true: that two signals part, that a claim breaks,
// that the goal is reached with fewer movements than in the best run so far. They are asked in rounds: what
// does not depend on other answers first, then each figure's next question, all figures of both designs
// together.
#include "solver/compare.hpp"

#include <algorithm>
#include <iterator>
#include <utility>
#include <variant>

#include "solver/asker.hpp"
#include "solver/figures.hpp"
#include "solver/interpreter.hpp"
#include "solver/limits.hpp"
#include "solver/movements.hpp"
#include "solver/readers.hpp"

namespace detent::solver {
namespace {

using dsl::Circuit;
using dsl::Compared;
using dsl::Model;
using dsl::SideBySide;

constexpr Value most_counted = 100'000;  // movements in one run

constexpr FigureKind all_kinds[] = {FigureKind::movements_to_goal, FigureKind::slips_to_goal,
                                    FigureKind::time_to_goal, FigureKind::movements_to_lock,
                                    FigureKind::time_to_rest};

/// A figure that is being found, and the question about it that is open.
struct Open {
  std::size_t side = 0;
  std::size_t place = 0;  ///< in Comparison::figures[side]
  std::variant<Fewest, Longest> search;
  std::optional<Ticket> ticket = {};
};

/// The questions behind the figures of one design.
///
/// That an input has moved is a comparison with what it was, and a proof would have to say how that hangs
/// together with what the design remembers. So movements are counted twice: of the inputs themselves, which
/// is what is meant and what runs are measured by, and of what the goal can see of them, which are never more
/// and are conditions like those that the design remembers. With fewer of these out of reach, so are fewer of
/// those.
class FigureQuestions {
 public:
  FigureQuestions(Circuit& circuit, const SideBySide& both, std::size_t side,
                  const FigureConditions& conditions)
      : circuit_(circuit),
        both_(both),
        side_(side),
        goal_(moved(conditions.goal)),
        lock_(moved(conditions.lock)),
        rest_(moved(conditions.rest)),
        movements_(circuit, inputs()),
        seen_movements_(circuit, seen_inputs()) {}

  std::optional<std::variant<Fewest, Longest>> search_for(FigureKind kind) {
    if (kind == FigureKind::time_to_rest) {
      if (lock_ == dsl::no_node || rest_ == dsl::no_node) return std::nullopt;
      return Longest(restlessness());
    }
    if (goal_ == dsl::no_node) return std::nullopt;
    switch (kind) {
      case FigureKind::movements_to_goal:
        return Fewest(kind, movements(goal_, circuit_.truth(false)));
      case FigureKind::movements_to_lock: {
        const NodeId before = circuit_.previous(goal_, 0);
        return Fewest(kind, movements(circuit_.and_(before, circuit_.not_(goal_)), circuit_.not_(before)));
      }
      case FigureKind::slips_to_goal:
        return Fewest(kind, inputs_moved());
      default:
        return Fewest(kind, duration());
    }
  }

 private:
  [[nodiscard]] NodeId moved(NodeId node) const {
    return node == dsl::no_node ? node : both_.node_of[side_][node];
  }

  [[nodiscard]] bool is_rate_limited(NodeId input) const {
    const auto& constraints = both_.constraints_of[side_];
    return std::any_of(constraints.begin(), constraints.end(),
                       [&](const dsl::Constraint& one) { return one.rate && one.rate->hand == input; });
  }

  [[nodiscard]] std::vector<MovedInput> inputs() const {
    const auto& choice = both_.model.power_up_choice;
    const NodeId no_hand = choice ? both_.model.signals[*choice].node : dsl::no_node;
    std::vector<MovedInput> all;
    for (const NodeId node : both_.inputs_of[side_]) {
      if (node != no_hand) all.push_back({{node}, is_rate_limited(node)});
    }
    return all;
  }

  [[nodiscard]] std::vector<MovedInput> seen_inputs() const {
    std::vector<NodeId> roots;
    if (goal_ != dsl::no_node) roots.push_back(goal_);
    for (const dsl::Constraint& one : both_.constraints_of[side_]) {
      if (!one.rate) roots.push_back(one.node);
    }
    std::vector<MovedInput> all = inputs();
    for (MovedInput& input : all) {
      if (input.rate_limited) continue;
      if (auto readers = readers_of(both_.model.circuit, input.seen.front(), roots)) {
        input.seen = std::move(*readers);
      }
    }
    return all;
  }

  [[nodiscard]] static Value at_end(const Trace& trace, NodeId node) {
    return trace.at(trace.ticks() - 1, node);
  }

  /// Each bound has a counter of its own, which need not count further.
  Fewest::Measure movements(NodeId goal, NodeId anew) {
    const NodeId count = movements_.counted(anew, most_counted);
    const auto bounded = [this, goal, anew](Movements& movements) {
      return [this, goal, anew, &movements](Value most) {
        return at_most(goal, movements.counted(anew, most + 1), most);
      };
    };
    return {possibly(goal), bounded(movements_), [count](const Trace& trace) { return at_end(trace, count); },
            bounded(seen_movements_)};
  }

  Fewest::Measure inputs_moved() {
    const NodeId count = movements_.inputs_moved();
    const NodeId seen = seen_movements_.inputs_moved();
    const auto bounded = [this](NodeId number) {
      return [this, number](Value most) { return at_most(goal_, number, most); };
    };
    return {possibly(goal_), bounded(count), [count](const Trace& trace) { return at_end(trace, count); },
            bounded(seen)};
  }

  dsl::Claim at_most(NodeId goal, NodeId number, Value most) {
    return possibly(circuit_.and_(goal, circuit_.less_equal(number, circuit_.constant(most))));
  }

  Fewest::Measure duration() const {
    const auto within = [goal = goal_](Value most) {
      dsl::Claim claim = possibly(goal);
      claim.within = most;
      return claim;
    };
    return {possibly(goal_), within,
            [](const Trace& trace) { return static_cast<Value>(trace.ticks()) - 1; }};
  }

  Longest::Conditions restlessness() {
    const auto restless = [this](Value ticks) {
      const NodeId since_lock = circuit_.age(circuit_.not_(lock_), true);
      const NodeId held =
          ticks == 0 ? lock_ : circuit_.and_(lock_, circuit_.not_(circuit_.age_at_most(since_lock, ticks)));
      return circuit_.and_(held, circuit_.not_(rest_));
    };
    const Value longest = 4 * both_.model.longest_time + 1000;
    return {restless, [this, longest](const Run& run) { return is_endless(run, longest); }, longest};
  }

  /// Whether the design, hands held as the run ends, comes to a standstill in which nothing is at rest.
  bool is_endless(const Run& run, Value ticks) const {
    const Circuit& circuit = both_.model.circuit;  // without counters, which would never stand still
    Interpreter interpreter(circuit);
    for (const auto& row : run.inputs) interpreter.step(row);
    std::vector<Value> memory = interpreter.memory();
    for (Value tick = 0; tick < ticks; ++tick) {
      const std::vector<Value>& values = interpreter.step(run.inputs.back());
      const bool kept = std::all_of(both_.constraints_of[side_].begin(), both_.constraints_of[side_].end(),
                                    [&](const dsl::Constraint& one) { return values[one.node] != 0; });
      if (!kept || values[lock_] == 0 || values[rest_] != 0) return false;
      std::vector<Value> next = interpreter.memory();
      if (next == memory) return true;
      memory = std::move(next);
    }
    return false;
  }

  Circuit& circuit_;
  const SideBySide& both_;
  std::size_t side_;
  NodeId goal_, lock_, rest_;
  Movements movements_, seen_movements_;
};

class Compare {
 public:
  Compare(const Model& a, const Model& b, const SideBySide& both, const CompareQuestions& questions,
          const CompareOptions& options)
      : both_(both), questions_(questions), asker_(a, b, both, options), designs_{&a, &b} {}

  Comparison run() {
    const Limits clock({}, {}, nullptr);
    ask_signals();
    ask_claims();
    prepare_figures();
    ask_figures();
    if (asker_.answer()) {
      write_signals();
      write_claims();
      while (take_figures() && !asker_.stopped() && asker_.answer()) {
      }
      write_figures();
    }
    result_.contradiction = asker_.contradiction();
    result_.statistics = asker_.statistics();
    result_.statistics.seconds = clock.seconds();
    return std::move(result_);
  }

 private:
  static Scope scope_of(std::size_t side) { return side == dsl::side_a ? Scope::a : Scope::b; }

  // ---- signals ----
  void ask_signals() {
    for (const Compared& pair : both_.compared) {
      for (const Compared::Way& way : pair.ways)
        partings_.push_back(asker_.ask(Scope::both, possibly(way.node)));
    }
  }

  void write_signals() {
    auto ticket = partings_.begin();
    for (std::size_t index = 0; index < both_.compared.size(); ++index) {
      SignalAnswer answer{.compared = index};
      for (const Compared::Way& way : both_.compared[index].ways) {
        answer.partings.push_back({way.parting, asker_.verdict(*ticket++)});
      }
      result_.signals.push_back(std::move(answer));
    }
  }

  // ---- claims ----
  void ask_claims() {
    for (const ClaimRow& row : questions_.claims) {
      std::array<std::optional<Ticket>, 2>& tickets = claims_.emplace_back();
      for (const std::size_t side : {dsl::side_a, dsl::side_b}) {
        if (!row.claim[side]) continue;
        const dsl::Claim& claim = designs_[side]->claims[*row.claim[side]];
        tickets[side] = asker_.ask(scope_of(side), claim_beside(both_, side, claim));
      }
    }
  }

  void write_claims() {
    for (std::size_t row = 0; row < claims_.size(); ++row) {
      auto& verdicts = result_.claims.emplace_back();
      for (const std::size_t side : {dsl::side_a, dsl::side_b}) {
        if (!claims_[row][side]) continue;
        verdicts[side] = asker_.verdict(*claims_[row][side]);
        verdicts[side]->claim = *questions_.claims[row].claim[side];
      }
    }
  }

  // ---- figures ----
  void prepare_figures() {
    sources_.reserve(2);
    for (const std::size_t side : {dsl::side_a, dsl::side_b}) {
      sources_.emplace_back(asker_.circuit(), both_, side, questions_.figures[side]);
      for (const FigureKind kind : all_kinds) {
        result_.figures[side].push_back({.kind = kind});
        const bool shared = side == dsl::side_b && is_shared(kind);
        if (auto search = shared ? std::nullopt : sources_.back().search_for(kind)) {
          open_.push_back({side, result_.figures[side].size() - 1, std::move(*search)});
        }
      }
    }
  }

  /// Both designs ask for the same, by the same hands, over the same runs: then one answer is enough.
  [[nodiscard]] bool is_shared(FigureKind kind) const {
    const auto node_of = [&](std::size_t side, NodeId node) {
      return node == dsl::no_node ? node : both_.node_of[side][node];
    };
    const auto same = [&](NodeId FigureConditions::*condition) {
      return node_of(dsl::side_a, questions_.figures[dsl::side_a].*condition) ==
             node_of(dsl::side_b, questions_.figures[dsl::side_b].*condition);
    };
    const bool conditions = kind == FigureKind::time_to_rest
                                ? same(&FigureConditions::lock) && same(&FigureConditions::rest)
                                : same(&FigureConditions::goal);
    return conditions && both_.same_assumptions &&
           both_.inputs_of[dsl::side_a] == both_.inputs_of[dsl::side_b];
  }

  /// Whether anything is left to ask.
  bool ask_figures() {
    bool any = false;
    // Backwards, so that who waits sees whether the other is done.
    for (auto open = open_.rbegin(); open != open_.rend(); ++open) {
      open->ticket.reset();
      if (is_waiting(*open)) continue;
      const auto question = std::visit([](auto& search) { return search.next(); }, open->search);
      if (question) open->ticket = asker_.ask(scope_of(open->side), *question);
      any = any || question.has_value();
    }
    return any;
  }

  Fewest* search_of(FigureKind kind, std::size_t side) {
    for (Open& open : open_) {
      auto* search = std::get_if<Fewest>(&open.search);
      if (search != nullptr && open.side == side && search->figure().kind == kind) return search;
    }
    return nullptr;
  }

  /// There are no fewer movements than inputs that move, and that is quicker to find out; often it is all
  /// there is to find out.
  bool is_waiting(const Open& open) {
    auto* movements = search_of(FigureKind::movements_to_goal, open.side);
    auto* slips = search_of(FigureKind::slips_to_goal, open.side);
    if (movements == nullptr || movements != std::get_if<Fewest>(&open.search)) return false;
    movements->not_below(slips->figure().floor);
    return movements->figure().run && !slips->is_done();
  }

  bool take_figures() {
    for (Open& open : open_) {
      if (!open.ticket) continue;
      const Verdict& verdict = asker_.verdict(*open.ticket);
      if (auto* fewest = std::get_if<Fewest>(&open.search)) {
        fewest->take(verdict, [this](const Run& run) { return asker_.replayed(run); });
      } else {
        std::get<Longest>(open.search).take(verdict);
      }
    }
    return ask_figures();
  }

  void write_figures() {
    for (const Open& open : open_) {
      Figure& figure = result_.figures[open.side][open.place];
      figure = std::visit([](const auto& search) { return search.figure(); }, open.search);
      const bool unfinished = figure.state == Figure::State::undecided && figure.limit == Limit::none;
      if (unfinished) figure.limit = asker_.stopped() ? Limit::interrupted : Limit::solver_gave_up;
    }
    for (std::size_t index = 0; index < std::size(all_kinds); ++index) {
      if (is_shared(all_kinds[index]))
        result_.figures[dsl::side_b][index] = result_.figures[dsl::side_a][index];
    }
  }

  const SideBySide& both_;
  const CompareQuestions& questions_;
  Asker asker_;
  std::array<const Model*, 2> designs_;
  std::vector<Ticket> partings_;  ///< one for each way of each compared pair
  std::vector<std::array<std::optional<Ticket>, 2>> claims_;
  std::vector<FigureQuestions> sources_;
  std::vector<Open> open_;
  Comparison result_;
};

}  // namespace

bool SignalAnswer::any(Outcome outcome) const {
  return std::any_of(partings.begin(), partings.end(),
                     [&](const PartingAnswer& one) { return one.verdict.outcome == outcome; });
}

Comparison compare(const Model& a, const Model& b, const SideBySide& both, const CompareQuestions& questions,
                   const CompareOptions& options) {
  return Compare(a, b, both, questions, options).run();
}

}  // namespace detent::solver
