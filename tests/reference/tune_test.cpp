// Regions of values against published margins.
// Fischer's mutual exclusion: safe exactly if B > A (tests/reference/fischer_test.cpp names the sources).
// The railroad gate: lowering and closing together may take 2 min at most
// (tests/reference/railroad_test.cpp); on a grid of q the sum may be q over that and not 2 q (derived there).
//
// Checked: regions of two delays: Fischer's protocol, the railroad gate | as for these two alone | as for
// these two alone

#include "solver/interpreter.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/fischer.hpp"
#include "tests/support/railroad.hpp"
#include "tests/support/tuned.hpp"

using namespace detent;
using namespace detent::test;

namespace {

constexpr std::size_t longest_delay = 50;

/// Both delays as tunables from 0 to the longest, put in the place of two delays that nothing else in the
/// text has.
std::string fischer_with_tunables() {
  const std::string most = std::to_string(longest_delay);
  std::string text = fischer(2, {.write = 770, .wait = 880});
  text = replaced(text, "after 771 ticks", "after write + 1 tick");
  text = replaced(text, "after 881 ticks", "after wait + 1 tick");
  return text + "tunable write = 1 tick from 0 ticks to " + most + " ticks\n" +
         "tunable wait = 2 ticks from 0 ticks to " + most + " ticks\n";
}

/// Each run that a value fails by is a run of the design at that value, and breaks the claim at its end.
void check_runs(const Tuned& tuned) {
  for (std::size_t point = 0; point < tuned.study.grid.points(); ++point) {
    const solver::PointFinding& finding = tuned.study.at(point);
    if (!finding.run) continue;
    const dsl::Tried tried = cli::design_at(tuned.study, tuned.compiled, point);
    REQUIRE(tried.model);
    REQUIRE(solver::is_well_formed(tried.model->circuit, *finding.run));
    const solver::Trace trace = solver::replay(tried.model->circuit, *finding.run);
    CHECK(trace.at(trace.ticks() - 1, tried.model->claims[finding.claim].watch) != 0);
    for (const dsl::Constraint& constraint : tried.model->constraints) {
      for (std::size_t tick = 0; tick < trace.ticks(); ++tick) CHECK(trace.at(tick, constraint.node) != 0);
    }
  }
}

}  // namespace

TEST_CASE("Both delays of Fischer's protocol: all pairs with B > A, and no other") {
  const Tuned found = tuned(fischer_with_tunables(), {"write", "wait"});
  const std::size_t size = longest_delay + 1;
  REQUIRE(found.study.grid.rows == size);
  REQUIRE(found.study.grid.columns == size);
  for (std::size_t write = 0; write < size; ++write) {
    for (std::size_t wait = 0; wait < size; ++wait) {
      INFO("write within " << write << ", wait " << wait);
      const char expected = wait > write ? '+' : '-';
      CHECK(letter_of(found.study.at(write * size + wait).standing) == expected);
    }
  }
  check_runs(found);
  REQUIRE(found.study.told.size() == 2);  // from A = 1, B = 2: B one less, or A one more
  for (const solver::Edge& edge : found.study.told) {
    const solver::PointFinding& outside = found.study.at(edge.outside);
    REQUIRE(outside.shortest);
    const auto wait = static_cast<std::size_t>(found.study.value(1, edge.outside));
    CHECK(outside.run->ticks() == 2 * wait + 4);  // the published length, see fischer_test.cpp
  }
}

TEST_CASE("The railroad gate's margin as a range of the controller's delay") {
  for (const auto& [tick, tick_s, closing] : {std::tuple{"15 s", 15, 60}, {"15 s", 15, 30}, {"5 s", 5, 60}}) {
    INFO("tick " << tick << ", gate down in less than " << closing << " s");
    std::string text = railroad(tick, {.lower = 60, .closing = closing}, "10 min");
    text = replaced(text, "hearing -> lowered after 60 s", "hearing -> lowered after lowering");
    text += "tunable lowering = 60 s from " + std::string(tick) + " to 2 min\n";
    const Tuned found = tuned(text, {"lowering"});
    const int longest = 120 - closing + tick_s;  // the margin, and one step of the grid more
    REQUIRE(found.study.grid.points() == static_cast<std::size_t>(120 / tick_s));
    for (std::size_t point = 0; point < found.study.grid.points(); ++point) {
      const int lowering = static_cast<int>(found.study.value(0, point)) * tick_s;
      INFO("lowered after " << lowering << " s");
      CHECK(letter_of(found.study.at(point).standing) == (lowering <= longest ? '+' : '-'));
    }
    check_runs(found);
  }
}
