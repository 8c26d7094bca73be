// The edge blocks R_TRIG and F_TRIG, the bistables SR and RS, and the counter CTU of IEC 61131-3.
//
// Source: IEC 61131-3, Ed. 2 (2003) 2.5.2.3, Tables 34 (bistables), 35 (edges), 36 (counters); Ed. 3 (2013)
// 6.6.3.5, Tables 43 to 45, as reproduced in secondary sources (the standard itself was not read). They have
// bodies there, from which the rows were derived and computed:
//   SR      Q' = S1 or (not R and Q)                 set wins
//   RS      Q' = not R1 and (S or Q)                 reset wins
//   R_TRIG  Q = CLK and not M, then M := CLK         CLK true at the first call gives one Q
//   F_TRIG  Q = not CLK and not M, then M := not CLK   CLK false at the first call gives one Q
//   CTU     R -> CV = 0, else a rising CU counts; Q = CV >= PV
// How far CV may run (PVmax) is left to the implementation there; here it is the counter's upper end.
//
// Checked: bistables SR and RS, edges R_TRIG and F_TRIG, counter CTU: bodies and rows | IEC 61131-3, Ed. 2
// (2003), 2.5.2.3, Tables 34 to 36; Ed. 3 (2013), 6.6.3.5, Tables 43 to 45 | as reproduced in secondary
// sources; rows computed from the bodies
#include <fmt/format.h>

#include "tests/support/catch.hpp"
#include "tests/support/pinned.hpp"

using namespace detent;
using namespace detent::test;

namespace {

struct Block {
  std::string declarations;
  Rows inputs;
  std::string condition;  ///< compared with the row
  std::string row;
};

std::vector<Block> blocks() {
  const std::string clock = "button clk\n";
  const std::string pair = "button s\nbutton r\n";
  const std::string counter = "button cu\nbutton r\ncounter cv up cu reset r from 0 to 3\n";
  const Rows set_and_reset{{"s", "0100110"}, {"r", "0001101"}};
  const Rows counted{{"cu", "0101011010100"}, {"r", "0000000011000"}};
  return {
      {clock + "signal q = rises(clk)\n", {{"clk", "1101001"}}, "q", "1001001"},
      {clock + "signal q = falls(clk)\n", {{"clk", "0011001"}}, "q", "1000100"},
      {pair + "latch q set s reset r set wins\n", set_and_reset, "q", "0110110"},
      {pair + "latch q set s reset r reset wins\n", set_and_reset, "q", "0110010"},
      {pair + "latch q set s reset r\n", set_and_reset, "q", "0110010"},
      {counter + "signal q = cv >= 3\n", counted, "q", "0000011100000"},
      // CV 0112233300111, one digit at a time
      {counter + "signal q = cv == 0\n", counted, "q", "1000000011000"},
      {counter + "signal q = cv == 1\n", counted, "q", "0110000000111"},
      {counter + "signal q = cv == 2\n", counted, "q", "0001100000000"},
      {counter + "signal q = cv == 3\n", counted, "q", "0000011100000"},
  };
}

std::string with_row(const Block& block, const std::string& row) {
  return "tick 1 ms\n" + block.declarations + pinned(block.inputs) + follows("c", block.condition, row);
}

solver::Outcome outcome_of(const std::string& declarations, const std::string& claim) {
  return verdict_of("tick 1 ms\n" + declarations + "claim c: " + claim, 20).outcome;
}

}  // namespace

TEST_CASE("Edge blocks, bistables and counter answer their rows on the interpreter") {
  for (const Block& block : blocks()) {
    INFO(block.declarations);
    CHECK(answer("tick 1 ms\n" + block.declarations, block.inputs, "q") == block.row);
  }
}

TEST_CASE("The counter's value follows CV on the interpreter") {
  const Block counter = blocks()[5];
  CHECK(answer("tick 1 ms\n" + counter.declarations, counter.inputs, "cv") == "0112233300111");
}

TEST_CASE("Z3 finds the same rows, and refutes each with one digit wrong") {
  for (const Block& block : blocks()) {
    INFO(block.declarations);
    const auto length = static_cast<dsl::Value>(block.row.size());
    CHECK(verdict_of(with_row(block, block.row), length).outcome == solver::Outcome::holds_up_to);
    for (std::size_t tick = 0; tick < block.row.size(); tick += 3) {
      std::string wrong = block.row;
      wrong[tick] = wrong[tick] == '1' ? '0' : '1';
      const solver::Verdict verdict = verdict_of(with_row(block, wrong), length);
      REQUIRE(verdict.outcome == solver::Outcome::refuted);
      CHECK(verdict.run->ticks() == tick + 1);
    }
  }
}

TEST_CASE("The bodies of the blocks hold in every run") {
  const std::string pair = "button s\nbutton r\n";
  const std::string set_wins = pair + "latch q set s reset r set wins\n";
  const std::string reset_wins = pair + "latch q set s reset r\n";
  CHECK(outcome_of(set_wins, "always q == (s or (not r and previous(q)))") == solver::Outcome::holds_up_to);
  CHECK(outcome_of(reset_wins, "always q == (not r and (s or previous(q)))") == solver::Outcome::holds_up_to);
  CHECK(outcome_of(set_wins, "always q == (not r and (s or previous(q)))") == solver::Outcome::refuted);
  CHECK(outcome_of("button clk\n", "always rises(clk) == (clk and not previous(clk))") ==
        solver::Outcome::holds_up_to);
  CHECK(outcome_of("button clk\n", "always falls(clk) == (not clk and previous(clk, starting true))") ==
        solver::Outcome::holds_up_to);  // M of F_TRIG begins as if CLK had been true
  CHECK(outcome_of("button clk\n", "always falls(clk) == (not clk and not previous(not clk))") ==
        solver::Outcome::holds_up_to);
  const std::string counter = "button cu\nbutton r\ncounter cv up cu reset r from 0 to 3\n";
  const std::string body =
      "always cv == (if r then 0 else if rises(cu) and previous(cv, starting 0) < 3"
      " then previous(cv, starting 0) + 1 else previous(cv, starting 0))";
  CHECK(outcome_of(counter, body) == solver::Outcome::holds_up_to);
  CHECK(outcome_of("button cu\nbutton r\ncounter cv up cu reset r from 0 to 4\n", body) ==
        solver::Outcome::refuted);
}
