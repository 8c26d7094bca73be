// The property-directed search by itself: what it finds must be an invariant by Induction's own reckoning,
// and it must not find one where there is none.
#include <z3++.h>

#include <string>

#include "solver/directed.hpp"
#include "solver/induction.hpp"
#include "solver/machine.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"

using namespace detent;
using namespace detent::test;
using solver::DirectedSearch;
using std::chrono::seconds;

namespace {

struct Asked {
  DirectedSearch::Answer answer = DirectedSearch::Answer::unknown;
  std::size_t clauses = 0;
  bool is_invariant = false;
};

Asked ask(const std::string& text) {
  const dsl::Model model = compiled(text);
  const std::vector<dsl::NodeId> watch{model.claims.front().watch};
  const solver::Slice slice = solver::slice_for(model, watch);
  const solver::Machine machine = solver::machine_of(slice, model, watch);
  const dsl::NodeId node = slice.node_of[watch.front()];
  z3::context context;
  DirectedSearch search(context, machine, node, {});
  Asked asked{.answer = search.go_on(seconds(60))};
  const solver::Invariant clauses = search.clauses();
  asked.clauses = clauses.size();
  solver::Induction induction(context, machine);
  asked.is_invariant = induction.strengthen(clauses) && induction.invariant().size() == clauses.size() &&
                       induction.prove(node, 1) == solver::Induction::Answer::proved;
  return asked;
}

// Two timers that start together, and a claim about their order: it needs the difference of two clocks.
std::string two_timers(int first, int second) {
  return "tick 20 ms\nbutton b\ndelay one on b for " + std::to_string(first) + " ticks\ndelay two on b for " +
         std::to_string(second) + " ticks\nclaim order: never two and not one\n";
}

}  // namespace

TEST_CASE("A directed search finds an invariant by itself") {
  for (const int ticks : {5, 500, 50'000}) {
    const Asked asked = ask(two_timers(ticks, 2 * ticks));
    INFO(ticks << " ticks, " << asked.clauses << " clauses");
    CHECK(asked.answer == DirectedSearch::Answer::found);
    CHECK(asked.is_invariant);
    CHECK(asked.clauses < 30);  // however long the time: bounds are widened
  }
}

TEST_CASE("A directed search finds none where there is a run") {
  CHECK(ask(two_timers(7, 5)).answer == DirectedSearch::Answer::may_happen);
  CHECK_FALSE(ask(two_timers(7, 5)).is_invariant);
  CHECK(ask("tick 20 ms\nbutton b\nclaim c: never b\n").answer == DirectedSearch::Answer::may_happen);
}

TEST_CASE("A directed search relates what a stage, a counter and a timer remember") {
  const Asked asked =
      ask("tick 20 ms\nbutton b\nbutton c\n"
          "stages s is idle | ready | live\n"
          "  idle -> ready when b\n"
          "  ready -> live after 100 ms\n"
          "  any -> idle when c\n"
          "counter n up rises(s is ready) down c from 0 to 5\n"
          "claim k: whenever rises(s is live): previous(held(not c, 60 ms)) and n <= 5\n");
  CHECK(asked.answer == DirectedSearch::Answer::found);
  CHECK(asked.is_invariant);
}

TEST_CASE("A directed search can be stopped and goes on") {
  const dsl::Model model = compiled(two_timers(50, 100));
  const std::vector<dsl::NodeId> watch{model.claims.front().watch};
  const solver::Slice slice = solver::slice_for(model, watch);
  const solver::Machine machine = solver::machine_of(slice, model, watch);
  z3::context context;
  DirectedSearch search(context, machine, slice.node_of[watch.front()], {});
  DirectedSearch::Answer answer = search.go_on(seconds(0));
  CHECK(answer == DirectedSearch::Answer::not_yet);
  CHECK(search.clauses().empty());
  answer = search.go_on(seconds(60));
  CHECK(answer == DirectedSearch::Answer::found);
}
