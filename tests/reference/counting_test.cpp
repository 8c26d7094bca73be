// Small counting machines whose answers are known.
//
// The two-bit counter is the textbook case of bounded model checking (Biere, Cimatti, Clarke, Zhu, "Symbolic
// model checking without BDDs", TACAS 1999; the published example is of this kind, from memory). From 0,
// "never 3" first fails in a run of 4 states (k = 3): computed by enumeration.
// The counters whose bad state can't be reached are the usual cases for k-induction (Sheeran, Singh,
// Stalmarck, FMCAD 2000), values computed by enumeration: here they must not be refuted.
//
// Checked: bounded model checking: the two-bit counter fails at k = 3 | Biere, Cimatti, Clarke, Zhu, TACAS
// 1999 | the example's kind from memory; values computed by enumeration
#include "tests/support/catch.hpp"
#include "tests/support/pinned.hpp"

using namespace detent;
using namespace detent::test;

namespace {

const std::string as_bits =
    "tick 1 ms\n"
    "signal low = not previous(low, starting true)\n"
    "signal high = previous(high) xor previous(low)\n"
    "claim c: never low and high\n";
const std::string as_number =
    "tick 1 ms\n"
    "signal before = previous(n, starting -1)\n"
    "signal n = if before == 3 then 0 else min(before + 1, 3)\n"
    "claim c: never n == 3\n";
const std::string as_stages =
    "tick 1 ms\n"
    "stages n is zero | one | two | three\n"
    "  zero -> one after 1 tick\n"
    "  one -> two after 1 tick\n"
    "  two -> three after 1 tick\n"
    "  three -> zero after 1 tick\n"
    "claim c: never n is three\n";

}  // namespace

TEST_CASE("A two-bit counter never reaches 3 in three ticks and does in four") {
  const std::string text = GENERATE(as_bits, as_number, as_stages);
  INFO(text);
  const solver::Verdict short_of = verdict_of(text, 3);
  CHECK(short_of.outcome == solver::Outcome::holds_up_to);
  CHECK(short_of.ticks == 3);
  for (const dsl::Value within : {4, 5, 20}) {
    const solver::Verdict reached = verdict_of(text, within);
    REQUIRE(reached.outcome == solver::Outcome::refuted);
    CHECK(reached.run->ticks() == 4);
  }
}

TEST_CASE("Counters that never reach 12") {
  CHECK(verdict_of("tick 1 ms\n"
                   "signal before = previous(n, starting 9)\n"
                   "signal n = if before == 9 then 0 else min(before + 1, 15)\n"
                   "claim c: never n == 12\n",
                   60)
            .outcome == solver::Outcome::holds_up_to);
  CHECK(verdict_of("tick 1 ms\n"
                   "signal before = previous(n, starting 7)\n"
                   "signal n = if before == 7 then 0 else if before == 15 then 8 else min(before + 1, 15)\n"
                   "claim c: never n == 12\n",
                   60)
            .outcome == solver::Outcome::holds_up_to);
}
