// From cheap to dear:
//   1. random runs: what they show is reachable, and they are what guesses are made from;
//   2. the search by events for what has been seen;
//   3. rounds of ever richer guesses, sifted by induction, each followed by k-induction on what is open and
//   by a
//      deeper look for a run;
//   4. a directed search for an invariant, larger k, and a deeper look for a run in turn, until a limit is
//   reached.
// A proof and a run exclude each other, so the order matters for speed only.
#include "solver/reach.hpp"

#include <z3++.h>

#include <algorithm>
#include <memory>
#include <new>
#include <string>
#include <utility>

#include "solver/confirm.hpp"
#include "solver/directed.hpp"
#include "solver/event_search.hpp"
#include "solver/guesses.hpp"
#include "solver/induction.hpp"
#include "solver/machine.hpp"
#include "solver/samples.hpp"
#include "solver/tidy.hpp"

namespace detent::solver {
namespace {

constexpr Value no_bound = 1'000'000'000'000;
constexpr unsigned shrink_ms = 3000;
/// Memories beyond which nothing is asked.
constexpr std::size_t most_memories = 50'000;
/// Values of nodes that playing a run again may take: some 300 MB.
constexpr std::size_t most_values = 40'000'000;

/// What one question looks at, and nothing else: runs are searched here, so that what is an event to other
/// questions makes this one no dearer. A run of so many steps of the group's machine has no more of this
/// one's.
struct Scene {
  Slice slice;
  Machine machine;
  EventSearch search;

  Scene(z3::context& context, const dsl::Model& model, NodeId condition)
      : slice(slice_for(model, {condition})),
        machine(machine_of(slice, model, {condition})),
        search(context, machine, slice.node_of[condition], no_bound) {}
};

struct Item {
  ReachQuestion question;
  NodeId node = dsl::no_node;  ///< of the slice
  bool seen = false;
  std::unique_ptr<Scene> scene = nullptr;
  std::unique_ptr<DirectedSearch> directed = nullptr;
  bool undirected = false;  ///< there is nothing more to be had from a directed search
  ReachAnswer answer = {};
  bool too_long = false;  ///< reached, but by a run that can't be played again
  [[nodiscard]] bool open() const { return answer.kind == ReachAnswer::Kind::unknown && !too_long; }
};

std::vector<NodeId> conditions_of(const std::vector<ReachQuestion>& questions) {
  std::vector<NodeId> nodes;
  for (const ReachQuestion& question : questions) {
    nodes.push_back(question.condition);
  }
  return nodes;
}

class Reach {
 public:
  Reach(const dsl::Model& model, const std::vector<ReachQuestion>& questions, const Limits& limits,
        const ReachOptions& options)
      : model_(model),
        limits_(limits),
        options_(options),
        conditions_(conditions_of(questions)),
        slice_(slice_for(model, conditions_)),
        machine_(machine_of(slice_, model, conditions_)),
        watchman_(limits, [this] { context_.interrupt(); }),
        induction_(context_, machine_) {
    for (const ReachQuestion& question : questions) {
      items_.push_back({.question = question, .node = slice_.node_of[question.condition]});
    }
  }

  ReachReport run() {
    try {
      work();
    } catch (const z3::exception& problem) {
      // What Z3 says when it may not go on; anything else would be a fault of ours, and must not pass for an
      // answer.
      out_of_memory_ = std::string(problem.msg()).find("memory") != std::string::npos;
      if (!out_of_memory_ && !stopped()) {
        throw InternalDisagreement{std::string("Z3 did not understand a question: ") + problem.msg()};
      }
    } catch (const std::bad_alloc&) {
      out_of_memory_ = true;
    }
    for (Item& item : items_) {
      finish(item);
      report_.answers.push_back(std::move(item.answer));
    }
    return std::move(report_);
  }

 private:
  void work() {
    settle_constants();
    if (open() > 0 || !machine_.constraints.empty()) {
      look_round();
    }
    // Z3 can't be stopped while it takes in a step, and that grows faster than the step.
    if (!report_.no_run_of && machine_.memories.size() <= most_memories) {
      search_seen();
      prove_in_rounds();
      go_on();
    }
  }

  [[nodiscard]] bool stopped() const { return limits_.reached() != Limit::none; }
  [[nodiscard]] std::size_t open() const {
    return static_cast<std::size_t>(
        std::count_if(items_.begin(), items_.end(), [](const Item& i) { return i.open(); }));
  }
  void tell() const {
    if (options_.progress) {
      options_.progress(open());
    }
  }

  // The slice may have seen that a condition is never true.
  void settle_constants() {
    for (Item& item : items_) {
      if (slice_.circuit.is_constant(item.node) && slice_.circuit.node(item.node).number == 0) {
        prove(item, 1);
      }
    }
  }

  void look_round() {
    std::vector<NodeId> nodes;
    for (const Item& item : items_) {
      nodes.push_back(item.node);
    }
    samples_ = sample(machine_, nodes, {.limits = &limits_});
    for (std::size_t index = 0; index < items_.size(); ++index) {
      items_[index].seen = samples_.seen[index];
    }
    if (samples_.longest < few_steps && !machine_.constraints.empty()) {
      find_dead_end();
    }
  }

  // Chance found no long run; perhaps there is none.
  void find_dead_end() {
    EventSearch search(context_, machine_, slice_false(), no_bound);
    for (int step = 0; step < few_steps && !stopped(); ++step) {
      const EventSearch::Answer answer = search.deepen(0);
      ++report_.statistics.solver_calls;
      if (answer == EventSearch::Answer::dead) {
        report_.no_run_of = static_cast<Value>(search.steps());
        return;
      }
    }
  }

  NodeId slice_false() { return slice_.circuit.truth(false); }

  // ---- runs ----
  EventSearch& search(Item& item) {
    if (!item.scene) {
      item.scene = std::make_unique<Scene>(context_, model_, item.question.condition);
    }
    return item.scene->search;
  }

  /// Looks on to this many steps, or until patience or a limit ends it.
  void deepen(Item& item, int steps, unsigned patience_ms) {
    while (item.open() && search(item).steps() < steps && !stopped()) {
      const EventSearch::Answer answer = search(item).deepen(patience_ms);
      ++report_.statistics.solver_calls;
      if (answer == EventSearch::Answer::found) {
        if (!keep_confirmed_run(item)) return;
        item.answer.kind = item.too_long ? ReachAnswer::Kind::unknown : ReachAnswer::Kind::reached;
      }
      if (answer != EventSearch::Answer::not_yet) {
        return;
      }
    }
  }

  /// False where Z3 was told to stop just then, and what it gave is no run: Z3 4.13 has been seen, rarely, to
  /// answer so.
  bool keep_confirmed_run(Item& item) {
    try {
      keep_run(item);
    } catch (const InternalDisagreement&) {
      if (!stopped()) throw;
      item.answer.run.reset();
      return false;
    }
    return true;
  }

  void keep_run(Item& item) {
    if (!item.question.wants_run) {
      return;
    }
    search(item).shrink(shrink_ms);
    const std::size_t most_rows = most_values / model_.circuit.nodes().size();
    item.too_long = static_cast<std::size_t>(search(item).busy_ticks()) > most_rows;
    if (item.too_long) {
      return;
    }
    const Run raw = widen(search(item).run(0), item.scene->slice, model_.circuit);
    item.too_long = !can_be_kept(model_.circuit, raw, most_values);
    if (item.too_long) {
      return;
    }
    const Setting setting = setting_of_model();
    item.answer.run = tidied(setting, item.question.condition, raw);
    ++report_.statistics.replayed_runs;
    if (!is_confirmed(model_, *item.answer.run, item.question.condition)) {
      throw InternalDisagreement{"a run that was found does not do on the interpreter what it was found for"};
    }
    item.scene.reset();
    tell();
  }

  [[nodiscard]] Setting setting_of_model() const {
    Setting setting{&model_.circuit, {}};
    for (const dsl::Constraint& constraint : model_.constraints) {
      setting.constraints.push_back(constraint.node);
    }
    return setting;
  }

  void search_seen() {
    for (Item& item : items_) {
      if (item.open() && item.seen && !item.question.wants_run) {
        item.answer.kind = ReachAnswer::Kind::reached;
      }
    }
    for (Item& item : items_) {
      if (item.open() && item.seen) {
        deepen(item, seen_steps, 0);
      }
    }
  }

  // ---- proofs ----
  // The step first, because it fails more often than the base, and its solver is shared by all.
  void prove(Item& item, int k) {
    if (!item.open() || stopped()) {
      return;
    }
    ++report_.statistics.solver_calls;
    if (induction_.prove(item.node, k) == Induction::Answer::proved && has_base(item, k)) {
      item.answer.kind = ReachAnswer::Kind::never;
      item.answer.proof = Proof{.never = item.question.condition, .slice_of = conditions_, .k = k};
      auto core = options_.small_proofs ? induction_.core(item.node, k) : std::nullopt;
      if (core) {
        item.answer.proof->invariant = std::move(*core);
      } else {
        item.answer.proof->invariant = induction_.invariant();
      }
      item.scene.reset();
      tell();
    }
  }

  /// No run of fewer than k steps reaches it.
  bool has_base(Item& item, int k) {
    if (k == 1) {
      return true;
    }
    deepen(item, k - 1, 500);
    return item.open() && search(item).steps() >= k - 1;
  }

  void prove_open(int most_k) {
    for (Item& item : items_) {
      for (int k = 1; k <= most_k; ++k) {
        prove(item, k);
      }
    }
  }

  /// Guesses of three literals are many, so a directed search gets its turn before them.
  void prove_in_rounds() {
    prove_open(1);
    guess_and_prove(Richness::plain, true, 3);
    guess_and_prove(Richness::plain, false, 6);
    guess_and_prove(Richness::guarded, false, 9);
    for (Item& item : items_) {
      direct(item, std::chrono::milliseconds(4000));
    }
    guess_and_prove(Richness::triples, false, 12);
  }

  /// One round: guesses sifted, k-induction, and a look for a run of up to `depth` steps.
  void guess_and_prove(Richness richness, bool trusting, int depth) {
    if (open() == 0 || stopped()) {
      return;
    }
    std::vector<Clause> guesses =
        guess(machine_, samples_.memories, richness, limits_, trusting ? nullptr : &induction_.invariant());
    if (stopped()) {
      return;
    }
    static_cast<void>(induction_.strengthen(std::move(guesses)));
    ++report_.statistics.solver_calls;
    prove_open(2);
    for (Item& item : items_) {
      deepen(item, depth, 500);
    }
  }

  /// What a directed search finds is put to induction like any other guess.
  void direct(Item& item, std::chrono::milliseconds patience) {
    if (!item.open() || item.undirected || stopped()) {
      return;
    }
    if (!item.directed) {
      item.directed = std::make_unique<DirectedSearch>(context_, machine_, item.node, induction_.invariant());
    }
    ++report_.statistics.solver_calls;
    const DirectedSearch::Answer answer = item.directed->go_on(patience);
    if (answer == DirectedSearch::Answer::found && induction_.strengthen(item.directed->clauses())) {
      prove(item, 1);
    }
    if (answer != DirectedSearch::Answer::not_yet) {
      item.undirected = true;
      item.directed.reset();
    }
  }

  void go_on() {
    std::chrono::milliseconds patience{1000};
    for (int k = 3; open() > 0 && !stopped(); ++k, patience *= 2) {
      for (Item& item : items_) {
        direct(item, patience);
        if (item.open()) {
          deepen(item, std::max(k + 8, search(item).steps() + 1), 0);
        }
        if (k <= largest_k) {
          prove(item, k);
        }
      }
    }
  }

  void finish(Item& item) {
    if (item.too_long) {
      item.answer.limit = Limit::run_too_long;
      item.answer.events = item.scene ? item.scene->search.steps() : 0;
    } else if (item.open()) {
      const Limit other = stopped() ? limits_.reached() : Limit::solver_gave_up;
      item.answer.limit = out_of_memory_ ? Limit::memory : other;
      item.answer.events = item.scene ? item.scene->search.steps() : 0;
    }
  }

  static constexpr int few_steps = 12;
  static constexpr int seen_steps = 200;
  static constexpr int largest_k = 12;

  const dsl::Model& model_;
  const Limits& limits_;
  const ReachOptions& options_;
  std::vector<NodeId> conditions_;
  Slice slice_;
  Machine machine_;
  z3::context context_;
  Watchman watchman_;
  Induction induction_;
  std::vector<Item> items_;
  Samples samples_;
  bool out_of_memory_ = false;
  ReachReport report_;
};

}  // namespace

ReachReport reach(const dsl::Model& model, const std::vector<ReachQuestion>& questions, const Limits& limits,
                  const ReachOptions& options) {
  return Reach(model, questions, limits, options).run();
}

}  // namespace detent::solver
