// Property patterns with published meanings, on rows whose answers are known.
//
// Precedence: Dwyer, Avrunin, Corbett, "Patterns in property specifications for finite-state verification",
// ICSE 1999, and the authors' page of patterns (read). Its two published forms differ: "S precedes P" is
//   newer   not P W S                    a first S in the same tick as P is enough
//   older   F P -> (not P U (S and not P))   it has to come before
// The rows and their answers were computed by enumeration from these formulas. `only after` is the newer one.
//
// Real-time patterns: Konrad, Cheng, "Real-time specification patterns", ICSE 2005, as listed in secondary
// sources; answers computed or derived from the formulas.
//
// Checked: the two published forms of precedence, and the real-time patterns, on rows with known answers |
// Dwyer, Avrunin, Corbett, ICSE 1999; Konrad, Cheng, ICSE 2005 | the authors' page read; the second as listed
// in secondary sources; answers computed
#include <fmt/format.h>

#include "tests/support/catch.hpp"
#include "tests/support/pinned.hpp"

using namespace detent;
using namespace detent::test;

namespace {

using solver::Outcome;

struct PrecedenceRow {
  std::string s, p;
  bool newer, older;
};

solver::Verdict on_rows(const std::string& s, const std::string& p, const std::string& body) {
  return verdict_of("tick 1 ms\nbutton s\nbutton p\n" + pinned({{"s", s}, {"p", p}}) + "claim c: " + body,
                    static_cast<dsl::Value>(s.size()));
}

Outcome outcome(bool holds) {
  return holds ? Outcome::holds_up_to : Outcome::refuted;
}

}  // namespace

TEST_CASE("Precedence: `only after` is the newer published form") {
  const std::vector<PrecedenceRow> rows{
      {"010", "010", true, false}, {"010", "001", true, true}, {"001", "010", false, false},
      {"010", "000", true, true},  {"000", "000", true, true},
  };
  for (const PrecedenceRow& row : rows) {
    INFO("S " << row.s << " P " << row.p);
    CHECK(on_rows(row.s, row.p, "p only after s").outcome == outcome(row.newer));
    CHECK(on_rows(row.s, row.p, "p only after previous(s)").outcome == outcome(row.older));
  }
}

TEST_CASE("Precedence: 'at that moment' is neither of the two") {
  CHECK(on_rows("010", "001", "rises(p) only while s").outcome == Outcome::refuted);
  CHECK(on_rows("010", "001", "p only after s").outcome == Outcome::holds_up_to);
}

TEST_CASE("Bounded response: P at tick 1, S at tick 4") {
  CHECK(on_rows("0000100", "0100000", "whenever p: s within 3 ticks").outcome == Outcome::holds_up_to);
  const solver::Verdict late = on_rows("0000100", "0100000", "whenever p: s within 2 ticks");
  REQUIRE(late.outcome == Outcome::refuted);
  CHECK(late.run->ticks() == 4);  // S has failed to come at ticks 1, 2 and 3
}

TEST_CASE("Minimum and maximum duration") {
  const std::string three = "01110000";
  CHECK(on_rows("00000000", three, "p lasts at least 3 ticks").outcome == Outcome::holds_up_to);
  CHECK(on_rows("00000000", three, "p lasts at least 4 ticks").outcome == Outcome::refuted);
  CHECK(on_rows("00000000", three, "p lasts at most 3 ticks").outcome == Outcome::holds_up_to);
  CHECK(on_rows("00000000", three, "p lasts at most 2 ticks").outcome == Outcome::refuted);
}

TEST_CASE("Bounded recurrence: P at least every so often") {
  const std::string every_third = "1001001";
  CHECK(on_rows("0000000", every_third, "always recently(p, 2 ticks)").outcome == Outcome::holds_up_to);
  CHECK(on_rows("0000000", every_third, "always recently(p, 1 tick)").outcome == Outcome::refuted);
}

TEST_CASE("Bounded invariance: after P, S holds for so long") {
  CHECK(on_rows("0111000", "0100000", "whenever p: s for 3 ticks").outcome == Outcome::holds_up_to);
  const solver::Verdict short_of = on_rows("0111000", "0100000", "whenever p: s for 4 ticks");
  REQUIRE(short_of.outcome == Outcome::refuted);
  CHECK(short_of.run->ticks() == 5);
}

TEST_CASE("Absence, universality, existence") {
  CHECK(on_rows("00", "00", "never p").outcome == Outcome::holds_up_to);
  CHECK(on_rows("00", "01", "never p").outcome == Outcome::refuted);
  CHECK(on_rows("00", "11", "always p").outcome == Outcome::holds_up_to);
  CHECK(on_rows("00", "10", "always p").outcome == Outcome::refuted);
  CHECK(on_rows("0000", "0010", "possible p within 2 ticks").outcome == Outcome::shown);
  CHECK(on_rows("0000", "0010", "possible p within 1 tick").outcome == Outcome::refuted);
}
