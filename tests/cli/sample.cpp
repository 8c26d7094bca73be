// The boat, and helpers that check what they build.
#include "tests/cli/sample.hpp"

#include <algorithm>

#include "tests/support/catch.hpp"

namespace detent::test {

const std::string& boat_text() {
  static const std::string text = R"(design "Jet boat"
tick 20 ms

channel thrust "the trigger" from -100 % to 100 % step 1 %
switch  guard is safe | run
button  nudge
button  stop
link    radio carries thrust lost: thrust -100 %

signal idle   = thrust <= -99 %
pulse  window "time to arm" on nudge for 8 s
latch  live set rises(guard is run) and window reset stop or guard is safe
output jet = thrust when live else -100 %

claim starts_at_rest "may only go live with the trigger at its stop": whenever rises(live): idle
claim in_time:    rises(live) only within 4 s after nudge
claim stays_low:  always jet <= 0 %
claim never_live: never live
claim no_stop:    never stop while live
claim not_at_run: never live while guard is run
claim answers:    whenever nudge: live within 1 s
claim idles:      whenever rises(guard is run): idle for 1 s
claim first_stop: live only after stop
claim only_idle:  live only while idle
claim long:       live lasts at least 1 s
claim short:      live lasts at most 200 ms
claim can_go:     possible live
claim can_go_now: possible live within 1 s
)";
  return text;
}

dsl::Compiled compiled_text(const std::string& text) {
  dsl::Compiled result = dsl::compile("boat.detent", [&](const std::string& path) {
    return path == "boat.detent" ? dsl::FileText{.text = text}
                                 : dsl::FileText{.text = {}, .problem = "does not exist"};
  });
  for (const dsl::Diagnostic& diagnostic : result.diagnostics) {
    INFO(dsl::to_text(diagnostic, result.sources));
    CHECK(diagnostic.severity() != dsl::Severity::error);
  }
  REQUIRE(result.model.has_value());
  return result;
}

solver::Run run_of(const dsl::Model& model, dsl::Value ticks, const std::vector<Hand>& hands) {
  std::vector<dsl::Value> values;
  for (const dsl::CircuitInput& input : model.circuit.inputs()) values.push_back(input.range.low);
  solver::Run run;
  for (dsl::Value tick = 0; tick < ticks; ++tick) {
    for (const Hand& hand : hands) {
      if (hand.tick != tick) continue;
      const auto signal =
          std::find_if(model.signals.begin(), model.signals.end(), [&](const dsl::Signal& other) {
            return other.role == dsl::SignalRole::hand && other.name == hand.input;
          });
      REQUIRE(signal != model.signals.end());
      values[signal->input] = hand.value;
    }
    run.inputs.push_back(values);
  }
  REQUIRE(solver::is_well_formed(model.circuit, run));
  return run;
}

std::uint32_t claim_named(const dsl::Model& model, const std::string& name) {
  const auto claim = std::find_if(model.claims.begin(), model.claims.end(),
                                  [&](const dsl::Claim& other) { return other.name == name; });
  REQUIRE(claim != model.claims.end());
  return static_cast<std::uint32_t>(claim - model.claims.begin());
}

solver::Verdict verdict_by(const dsl::Model& model, const std::string& claim, solver::Run run) {
  const std::uint32_t index = claim_named(model, claim);
  const solver::Trace trace = solver::replay(model.circuit, run);
  INFO("the run must break (or do) the claim '" << claim << "' in its last tick, and no sooner");
  for (std::size_t tick = 0; tick < trace.ticks(); ++tick) {
    REQUIRE((trace.at(tick, model.claims[index].watch) != 0) == (tick + 1 == trace.ticks()));
  }
  const auto ticks = static_cast<dsl::Value>(run.ticks());
  const auto outcome = model.claims[index].possible ? solver::Outcome::shown : solver::Outcome::refuted;
  return {.claim = index, .outcome = outcome, .ticks = ticks, .run = std::move(run)};
}

}  // namespace detent::test
