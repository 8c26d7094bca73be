// The layout of diagrams: what is cut, what is drawn short, what is gathered into one movement.
#include "cli/timing.hpp"
#include "cli/moments.hpp"
#include "cli/relevance.hpp"
#include "cli/timing_layout.hpp"
#include "tests/cli/golden.hpp"
#include "tests/cli/sample.hpp"
#include "tests/support/catch.hpp"

namespace detent::test {
namespace {

using cli::Layout;

/// A run in which a button is pressed and released in every other tick.
std::vector<Hand> drumming(dsl::Value ticks) {
  std::vector<Hand> hands;
  for (dsl::Value tick = 1; tick < ticks; ++tick) hands.push_back({tick, "stop", tick % 2});
  return hands;
}

std::vector<std::uint32_t> signals_named(const dsl::Model& model, const std::vector<std::string>& names) {
  std::vector<std::uint32_t> found;
  for (std::uint32_t i = 0; i < model.signals.size(); ++i) {
    for (const std::string& name : names) {
      if (model.signals[i].name == name) found.push_back(i);
    }
  }
  REQUIRE(found.size() == names.size());
  return found;
}

}  // namespace

TEST_CASE("too many moments are cut from the left, and the diagram says how many") {
  const dsl::Compiled design = compiled_text(boat_text());
  const dsl::Model& model = *design.model;
  const solver::Trace trace = solver::replay(model.circuit, run_of(model, 41, drumming(41)));
  const auto signals = signals_named(model, {"stop", "live"});
  const Layout layout = cli::lay_out(model, trace, signals, 60, true);
  CHECK(layout.width <= 60);
  CHECK(layout.cut + layout.stretches.size() == 41);  // tick 0 and 40 changes, each a stretch of one tick
  CHECK(layout.stretches.back().from == 40);
  check_golden("cut", cli::render(cli::timing_diagram(model, trace,
                                                      {.signals = signals, .mark = "here", .indent = "  "},
                                                      {.width = 60}),
                                  {.width = 60}));
}

TEST_CASE("a run of a great many moments is laid out quickly") {
  const dsl::Compiled design = compiled_text(boat_text());
  const dsl::Model& model = *design.model;
  const solver::Trace trace = solver::replay(model.circuit, run_of(model, 3'000, drumming(3'000)));
  const Layout layout = cli::lay_out(model, trace, signals_named(model, {"stop"}), 100, true);
  CHECK(layout.width <= 100);
  CHECK(layout.cut + layout.stretches.size() == 3'000);
}

TEST_CASE("a level that moves a step every tick is one movement") {
  const dsl::Compiled design = compiled_text(boat_text());
  const dsl::Model& model = *design.model;
  std::vector<Hand> hands;
  for (dsl::Value tick = 1; tick <= 20; ++tick) hands.push_back({tick, "thrust", tick - 100});
  const solver::Trace trace = solver::replay(model.circuit, run_of(model, 30, hands));
  const auto thrust = signals_named(model, {"thrust"});
  const auto moments = cli::find_moments(model, trace, thrust);
  REQUIRE(moments.size() == 1);
  CHECK(moments[0].tick == 1);
  CHECK(moments[0].until == 20);
  CHECK(moments[0].moves[0].from == -100);
  CHECK(moments[0].moves[0].to == -80);
  // idle (thrust <= -99 %) goes off at tick 2, in the middle: three moments
  CHECK(cli::find_moments(model, trace, signals_named(model, {"thrust", "idle"})).size() == 3);
  check_golden("ramp",
               cli::render(cli::timing_diagram(model, trace, {.signals = thrust, .mark = "here"}, {}), {}));
}

TEST_CASE("what stays as it is takes one row with a word") {
  const dsl::Compiled design = compiled_text(boat_text());
  const dsl::Model& model = *design.model;
  const solver::Trace trace = solver::replay(model.circuit, run_of(model, 1, {}));
  const auto signals = signals_named(model, {"thrust", "guard", "stop"});
  check_golden("one_tick",
               cli::render(cli::timing_diagram(model, trace, {.signals = signals, .mark = "here"}, {}), {}));
}

TEST_CASE("what has no bearing on a claim is not in its cone") {
  const dsl::Compiled design = compiled_text(boat_text());
  const dsl::Model& model = *design.model;
  const auto inside = cli::cone(model.circuit, model.claims[claim_named(model, "never_live")].watch);
  const auto of = [&](const char* name) { return model.signals[signals_named(model, {name})[0]].node; };
  for (const char* name : {"guard", "nudge", "stop", "window", "live"}) CHECK(inside[of(name)]);
  for (const char* name : {"thrust", "radio", "jet", "idle"}) CHECK_FALSE(inside[of(name)]);
}

}  // namespace detent::test
