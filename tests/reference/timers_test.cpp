// The timers TP, TON and TOF of IEC 61131-3, tick by tick.
//
// Source of the rules: IEC 61131-3, Ed. 2 (2003) 2.5.2.3, Table 37 and the timing diagrams of Table 38; Ed. 3
// (2013) 6.6.3.5, Table 46 and Figure 15, as reproduced in secondary sources (the standard itself was not
// read). The rows of digits were computed by enumeration from these rules, with PT = 4 ticks, an edge seen
// at t starting the time at t. Where the diagrams leave the answer open (a rise of TP's IN inside the pulse
// that is still there at its end; TOF before any rise) the row takes: not started again, and 0.
//
// The elapsed time ET has no counterpart in the language, so it is not compared.
//
// Checked: timers TP, TON and TOF: rows, and rules over all runs | IEC 61131-3, Ed. 2 (2003), 2.5.2.3, Tables
// 37 and 38; Ed. 3 (2013), 6.6.3.5, Table 46 and Figure 15 | as reproduced in secondary sources; rows
// computed by enumeration; what the diagrams leave open is this project's reading
#include <fmt/format.h>

#include "solver/interpreter.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/pinned.hpp"

using namespace detent;
using namespace detent::test;

namespace {

struct TimerRow {
  std::string element;  ///< the declaration of q
  std::string in;
  std::string q;
};

const TimerRow pulse{"pulse q on in for 4 ticks\n",  //
                     "011000001111111010100",        //
                     "011110001111000011110"};
const TimerRow delay{"delay q on in for 4 ticks\n",  //
                     "01110011111110",               //
                     "00000000001110"};
const TimerRow linger{"linger q on in for 4 ticks\n",  //
                      "01100000011001000000",          //
                      "01111110011111111100"};

const TimerRow& row_number(int index) {
  return index == 0 ? pulse : index == 1 ? delay : linger;
}

std::string with_row(const TimerRow& timer, const std::string& claimed) {
  return "tick 1 ms\nbutton in\n" + timer.element + pinned({{"in", timer.in}}) +
         follows("q_follows", "q", claimed);
}

solver::Verdict claim_about(const std::string& element, const std::string& statements) {
  return verdict_of("tick 1 ms\nbutton in\n" + element + statements, 24);
}

}  // namespace

TEST_CASE("The timers answer the rows of IEC 61131-3 on the interpreter") {
  const TimerRow& timer = row_number(GENERATE(0, 1, 2));
  CHECK(answer("tick 1 ms\nbutton in\n" + timer.element, {{"in", timer.in}}, "q") == timer.q);
}

TEST_CASE("Z3 finds that the timers answer the rows of IEC 61131-3") {
  const TimerRow& timer = row_number(GENERATE(0, 1, 2));
  const auto length = static_cast<dsl::Value>(timer.q.size());
  const solver::Verdict verdict = verdict_of(with_row(timer, timer.q), length);
  CHECK(verdict.outcome == solver::Outcome::holds_up_to);
  CHECK(verdict.ticks == length);
}

TEST_CASE("Z3 refutes a timer's row with one wrong digit, at that digit") {
  const TimerRow& timer = row_number(GENERATE(0, 1, 2));
  for (std::size_t tick = 0; tick < timer.q.size(); ++tick) {
    std::string wrong = timer.q;
    wrong[tick] = wrong[tick] == '1' ? '0' : '1';
    const solver::Verdict verdict = verdict_of(with_row(timer, wrong), static_cast<dsl::Value>(wrong.size()));
    REQUIRE(verdict.outcome == solver::Outcome::refuted);
    CHECK(verdict.run->ticks() == tick + 1);
  }
}

// "A rising IN starts a pulse of exactly PT, whatever IN does meanwhile."
TEST_CASE("TP in every run: exactly PT, started by a rising IN only") {
  CHECK(claim_about(pulse.element, "claim c: q lasts at least 4 ticks").outcome ==
        solver::Outcome::holds_up_to);
  CHECK(claim_about(pulse.element, "claim c: rises(q) only while rises(in)").outcome ==
        solver::Outcome::holds_up_to);
  CHECK(claim_about(pulse.element, "claim c: q only within 3 ticks after rises(in)").outcome ==
        solver::Outcome::holds_up_to);
  CHECK(claim_about(pulse.element, "claim c: q lasts at least 5 ticks").outcome == solver::Outcome::refuted);
}

// In whole ticks a rise in the very tick in which a pulse ends starts the next one without a gap; where IN
// does not rise so soon, no pulse is longer than PT.
TEST_CASE("TP in every run: no longer than PT where IN leaves it the time to end") {
  CHECK(claim_about(pulse.element, "claim c: q lasts at most 4 ticks").outcome == solver::Outcome::refuted);
  CHECK(claim_about(pulse.element,
                    "assume slow: never rises(in) while previous(recently(rises(in), 4 ticks))\n"
                    "claim c: q lasts at most 4 ticks")
            .outcome == solver::Outcome::holds_up_to);
  CHECK(claim_about(pulse.element,
                    "assume slow: never rises(in) while previous(recently(rises(in), 2 ticks))\n"
                    "claim c: q lasts at most 4 ticks")
            .outcome == solver::Outcome::refuted);
}

// "Q true once IN has held for PT; IN = 0 clears Q at once, no partial memory."
TEST_CASE("TON in every run: on exactly while IN has been true for PT ticks before") {
  CHECK(claim_about(delay.element,
                    "signal one = in and previous(in)\n"
                    "signal two = in and previous(one)\n"
                    "signal three = in and previous(two)\n"
                    "claim c: always q == (in and previous(three))")
            .outcome == solver::Outcome::holds_up_to);
  CHECK(claim_about(delay.element, "claim c: whenever not in: not q").outcome ==
        solver::Outcome::holds_up_to);
  CHECK(claim_about(delay.element, "claim c: rises(q) only while held(in, 4 ticks)").outcome ==
        solver::Outcome::holds_up_to);
  CHECK(claim_about(delay.element, "claim c: rises(q) only while held(in, 5 ticks)").outcome ==
        solver::Outcome::refuted);
}

// "Q follows IN up at once, holds PT after it falls."
TEST_CASE("TOF in every run: on while IN is, and less than PT after") {
  CHECK(claim_about(linger.element,
                    "signal one = in or previous(in)\n"
                    "signal two = in or previous(one)\n"
                    "signal three = in or previous(two)\n"
                    "claim c: always q == (in or previous(three))")
            .outcome == solver::Outcome::holds_up_to);
  CHECK(claim_about(linger.element, "claim c: whenever in: q").outcome == solver::Outcome::holds_up_to);
  CHECK(claim_about(linger.element, "claim c: whenever falls(in) and previous(in): q or in for 4 ticks")
            .outcome == solver::Outcome::holds_up_to);
  CHECK(claim_about(linger.element, "claim c: whenever falls(in) and previous(in): q or in for 5 ticks")
            .outcome == solver::Outcome::refuted);
}
