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
#include "solver/figure_questions.hpp"
#include "solver/limits.hpp"

namespace detent::solver {
namespace {

using dsl::Compared;
using dsl::Model;
using dsl::SideBySide;

constexpr FigureKind all_kinds[] = {FigureKind::movements_to_goal, FigureKind::slips_to_goal,
                                    FigureKind::time_to_goal, FigureKind::movements_to_lock,
                                    FigureKind::time_to_rest};

/// A figure that is being found, and the question about it that is open.
struct Open {
  std::size_t side = 0;
  std::size_t place = 0;  ///< in Comparison::figures[side]
  FigureSearch search;
  std::optional<Ticket> ticket = {};
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
