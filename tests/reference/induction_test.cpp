// k-induction (Sheeran, Singh, Stalmarck, "Checking safety properties using induction and a SAT-solver",
// FMCAD 2000; the rule seen in a secondary source) on two counters of four bits that start at 0 and never
// reach 12:
//   9 -> 0, else one more: provable first at k = 3;
//   0 .. 7 and 8 .. 15 each in a circle: provable first at k = 8.
// The values were computed by enumeration, and are again here. k counts the good states in a row after which
// the next one must be good too; Induction::prove counts that next one as well.
//
// Checked: k-induction: two counters of four bits, provable first at k = 3 and k = 8 | Sheeran, Singh,
// Stalmarck, FMCAD 2000 | the rule as reproduced in secondary sources; values computed by enumeration
#include <z3++.h>

#include <array>
#include <string>

#include "solver/event_search.hpp"
#include "solver/forever.hpp"
#include "solver/induction.hpp"
#include "solver/machine.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"

using namespace detent;
using namespace detent::test;

namespace {

using solver::Induction;
using Next = std::array<int, 16>;

constexpr int bad = 12;

/// The language has no counter that wraps, so that each is an if of its own.
std::string design(const std::string& next) {
  return "tick 1 ms\nsignal x = previous(next, starting 0)\nsignal next = " + next +
         "\nclaim c: never x == 12\n";
}

const std::string to_nine = design("if x == 9 then 0 else if x == 15 then 0 else min(x + 1, 15)");
const std::string two_circles = design("if x == 7 then 0 else if x == 15 then 8 else min(x + 1, 15)");

/// The smallest k such that no k good states in a row lead to the bad one: all rows of states are tried.
int first_k_by_enumeration(const Next& next) {
  for (int k = 1;; ++k) {
    bool fails = false;
    for (int start = 0; start < 16; ++start) {
      int state = start;
      bool good = true;
      for (int step = 0; step < k; ++step) {
        good = good && state != bad;
        state = next[static_cast<std::size_t>(state)];
      }
      fails = fails || (good && state == bad);
    }
    if (!fails) return k;
  }
}

Next table(int circle_end, int circle_start_of_last) {
  Next next{};
  for (int state = 0; state < 15; ++state) next[static_cast<std::size_t>(state)] = state + 1;
  next[static_cast<std::size_t>(circle_end)] = 0;
  next[15] = circle_start_of_last;
  return next;
}

/// The smallest k for which the engine's induction, with no invariant but the ranges, answers "proved".
int first_k(const std::string& text, int most) {
  const dsl::Model model = compiled(text);
  const dsl::NodeId watch = model.claims[0].watch;
  const solver::Slice slice = solver::slice_for(model, {watch});
  const solver::Machine machine = solver::machine_of(slice, model, {watch});
  REQUIRE(machine.memories.size() == 1);
  REQUIRE(machine.memories[0].range == dsl::Range{0, 15});  // else a range has done the work of the induction
  z3::context context;
  Induction induction(context, machine);
  for (int k = 1; k <= most; ++k) {
    const Induction::Answer answer = induction.prove(slice.node_of[watch], k + 1);
    REQUIRE(answer != Induction::Answer::unknown);
    CHECK(induction.invariant().empty());
    if (answer == Induction::Answer::proved) return k;
  }
  return -1;
}

}  // namespace

TEST_CASE("The published k of two counters is what enumeration gives") {
  CHECK(first_k_by_enumeration(table(9, 0)) == 3);
  CHECK(first_k_by_enumeration(table(7, 8)) == 8);
}

TEST_CASE("k-induction without an invariant proves the counter to nine first at k = 3") {
  CHECK(first_k(to_nine, 6) == 3);
}

TEST_CASE("k-induction without an invariant proves the two circles first at k = 8") {
  CHECK(first_k(two_circles, 12) == 8);
}

TEST_CASE("The base of the induction counts: a counter that starts in the wrong circle is refuted") {
  // The step at k = 8 says nothing about 8 .. 15 itself: from 8 on, 12 is reached at the fifth tick.
  std::string wrong = two_circles;
  wrong.replace(wrong.find("starting 0"), 10, "starting 8");
  CHECK(first_k(wrong, 12) == 8);
  const solver::Report report = solver::check_forever(compiled(wrong), {});
  REQUIRE(report.verdicts[0].outcome == solver::Outcome::refuted);
  CHECK(report.verdicts[0].run->ticks() == 5);
}

TEST_CASE("The whole engine proves both counters") {
  for (const std::string& text : {to_nine, two_circles}) {
    const solver::Report report = solver::check_forever(compiled(text), {});
    CHECK(report.verdicts[0].outcome == solver::Outcome::proved);
    CHECK(report.verdicts[0].proof);
  }
}
