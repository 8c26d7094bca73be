// Small safety functions written in the language, on traces that follow from published rules.
//
// Two-hand control: ISO 13851:2019 (both hands 5.2, cessation 5.4, re-initiation 5.7, synchronous actuation
// 5.8; clause titles read) with EN 574's 0.5 s, as reproduced in secondary sources; the same numbers stand in
// the openly readable Quebec regulation S-2.1, r. 13, s. 185 (read). Traces derived from these rules; that a
// lag of exactly 500 ms counts as within is this project's reading.
// Enabling device: IEC 60204-1:2005 9.2.5.8 (1 off, 2 on, 3 off; going back from 3 to 2 must not enable), as
// reproduced in secondary sources; trace derived.
// Emergency stop: 2006/42/EC, Annex I, 1.2.4.3 (the command stays until it is released; releasing only
// permits a restart; read); trace derived for a design with a separate reset.
#include <algorithm>
#include <vector>

#include "solver/interpreter.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/pinned.hpp"

using namespace detent;
using namespace detent::test;

namespace {

const std::string two_hands =
    "tick 1 ms\n"
    "button left\n"
    "button right\n"
    "signal both = left and right\n"
    "signal none = not left and not right\n"
    "signal in_time = recently(rises(left), 500 ms) and recently(rises(right), 500 ms)\n";
const std::string type_three_c = two_hands +
                                 "latch ready set none reset previous(both)\n"
                                 "latch out set rises(both) and in_time and ready reset not both\n";
const std::string type_one = two_hands + "signal out = both\n";

/// What happens at a time in ms, and the output there.
struct Moment {
  std::size_t time;
  bool left, right;
  char out;
};
using Moments = std::vector<Moment>;

std::string at_moments(const std::string& text, const Moments& moments) {
  std::string left, right, seen;
  for (std::size_t time = 0, next = 0; time <= moments.back().time; ++time) {
    if (moments[next].time == time) {
      left += moments[next].left ? '1' : '0';
      right += moments[next].right ? '1' : '0';
      next = std::min(next + 1, moments.size() - 1);
    } else {
      left += left.back();
      right += right.back();
    }
  }
  const std::string out = answer(text, {{"left", left}, {"right", right}}, "out");
  for (const Moment& moment : moments) seen += out[moment.time];
  return seen;
}

std::string expected(const Moments& moments) {
  std::string row;
  for (const Moment& moment : moments) row += moment.out;
  return row;
}

const Moments trace_a{{0, false, false, '0'},   {100, true, false, '0'}, {600, true, true, '1'},
                      {1000, false, true, '0'}, {1200, true, true, '0'}, {1300, false, false, '0'},
                      {1400, true, true, '1'}};
const Moments trace_b{{0, false, false, '0'},   {100, true, false, '0'}, {601, true, true, '0'},
                      {900, false, true, '0'},  {950, true, true, '0'},  {1000, false, false, '0'},
                      {1100, false, true, '0'}, {1200, true, true, '1'}};

const std::string enabling =
    "tick 1 ms\n"
    "channel grip from 1 to 3\n"
    "latch through set grip == 3 reset grip == 1\n"
    "signal enable = grip == 2 and not through\n";

const std::string emergency_stop =
    "tick 1 ms\n"
    "button estop\n"
    "button reset_key\n"
    "button start\n"
    "latch stopped set estop reset rises(reset_key) set wins\n"
    "latch run set rises(start) and not stopped reset stopped\n";

}  // namespace

TEST_CASE("Two-hand control of type III C on the traces of ISO 13851") {
  CHECK(at_moments(type_three_c, trace_a) == expected(trace_a));
  CHECK(at_moments(type_three_c, trace_b) == expected(trace_b));
}

TEST_CASE("Two-hand control of type I runs again without both hands off") {
  Moments of_type_one = trace_a;
  of_type_one[4].out = '1';
  CHECK(at_moments(type_one, of_type_one) == expected(of_type_one));
}

TEST_CASE("Two-hand control of type III C in every run of 60 ticks, with 5 ticks for 500 ms") {
  std::string small = type_three_c;
  for (std::size_t at = small.find("500 ms"); at != std::string::npos; at = small.find("500 ms")) {
    small.replace(at, 6, "5 ticks");
  }
  const auto outcome = [&](const std::string& body) {
    return verdict_of(small + "claim c: " + body, 60).outcome;
  };
  CHECK(outcome("whenever not both: not out") == solver::Outcome::holds_up_to);
  CHECK(outcome("rises(out) only within 5 ticks after rises(left)") == solver::Outcome::holds_up_to);
  CHECK(outcome("rises(out) only within 5 ticks after rises(right)") == solver::Outcome::holds_up_to);
  CHECK(outcome("rises(out) only while since(not previous(both), none)") == solver::Outcome::holds_up_to);
  CHECK(outcome("rises(out) only within 4 ticks after rises(left)") == solver::Outcome::refuted);
}

TEST_CASE("Three-position enabling device") {
  const dsl::Model model = compiled(enabling);
  solver::Run run;
  for (const dsl::Value grip : {1, 2, 2, 3, 2, 1, 2, 1}) run.inputs.push_back({grip});
  CHECK(row_of(model, solver::replay(model.circuit, run), "enable") == "01100010");
  CHECK(verdict_of(enabling + "claim c: never rises(enable) while previous(grip, starting 1) == 3", 30)
            .outcome == solver::Outcome::holds_up_to);
}

TEST_CASE("Emergency stop with a separate reset") {
  const Rows rows{{"estop", "010000"}, {"reset_key", "000010"}, {"start", "100101"}};
  CHECK(answer(emergency_stop, rows, "run") == "100001");
  CHECK(verdict_of(emergency_stop + "claim c: whenever estop: not run", 30).outcome ==
        solver::Outcome::holds_up_to);
  CHECK(
      verdict_of(emergency_stop + "claim c: never rises(run) while rises(reset_key) and not rises(start)", 30)
          .outcome == solver::Outcome::holds_up_to);
}
