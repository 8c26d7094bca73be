// The bounded check against a look at every run: the same verdicts, the same shortest lengths, the same side
// findings, on random designs. Every run that is shown is played on the interpreter here as well.
#include <algorithm>
#include <optional>
#include <string>

#include <fmt/format.h>

#include "dsl/front.hpp"
#include "solver/bounded.hpp"
#include "solver/interpreter.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"
#include "tests/support/design_generator.hpp"
#include "tests/support/every_run.hpp"
#include "tests/support/seeds.hpp"

using namespace detent;
using namespace detent::test;

namespace {

using dsl::Value;
using solver::Outcome;

constexpr std::size_t most_steps = 400'000;
const std::vector<std::size_t> bounds{9, 7, 5};  // the first for which a look at every run is not too much

using Words = std::optional<std::string>;

struct Expected {
  Outcome outcome = Outcome::undecided;
  Value ticks = 0;
  bool vacuous = false;
  friend bool operator==(const Expected&, const Expected&) = default;
};

/// What a claim's verdict has to be, by the meaning of the words in solver/verdict.hpp.
Expected expected_of(const dsl::Claim& claim, const Length& watch, const Length& premise,
                     std::size_t within) {
  const auto all = static_cast<Value>(within);
  if (!claim.possible) {
    if (watch) return {Outcome::refuted, static_cast<Value>(*watch), false};
    return {Outcome::holds_up_to, all, claim.premise != dsl::no_node && !premise};
  }
  const Value wanted = claim.within ? *claim.within + 1 : all;
  if (watch && static_cast<Value>(*watch) <= wanted)
    return {Outcome::shown, static_cast<Value>(*watch), false};
  if (claim.within && wanted <= all) return {Outcome::refuted, wanted, false};
  return {Outcome::undecided, all, false};
}

std::string said(const Expected& one) {
  return fmt::format("outcome {} ticks {} vacuous {}", static_cast<int>(one.outcome), one.ticks, one.vacuous);
}

/// What is wrong with a run that is to make `node` true in its last tick, and not before.
Words wrong_run(const dsl::Model& model, const std::optional<solver::Run>& run, dsl::NodeId node,
                Value ticks) {
  if (!run) return "no run";
  if (static_cast<Value>(run->ticks()) != ticks) return fmt::format("a run of {} ticks", run->ticks());
  if (!solver::is_well_formed(model.circuit, *run)) return "a run that the inputs cannot do";
  const solver::Trace trace = solver::replay(model.circuit, *run);
  for (std::size_t tick = 0; tick < trace.ticks(); ++tick) {
    for (const dsl::Constraint& one : model.constraints) {
      if (trace.at(tick, one.node) == 0) return fmt::format("a run that breaks '{}'", one.name);
    }
    if ((trace.at(tick, node) != 0) != (tick + 1 == trace.ticks()))
      return "a run that does not do it at its end";
  }
  return {};
}

class Comparison {
 public:
  Comparison(const dsl::Model& model, const EveryRun& every, std::size_t within)
      : model_(model), every_(every), within_(within) {
    solver::BoundedOptions options;
    options.within = static_cast<Value>(within);
    report_ = solver::check_bounded(model, options);
  }

  Words difference() const {
    const Length none = report_.no_run_of ? Length(static_cast<std::size_t>(*report_.no_run_of)) : Length();
    if (none != every_.no_run_of) {
      return fmt::format("no run of {} ticks, but {} expected", none.value_or(0),
                         every_.no_run_of.value_or(0));
    }
    if (none) return {};
    for (const solver::Verdict& verdict : report_.verdicts) {
      if (Words words = of_claim(verdict)) return words;
    }
    for (const solver::OverlapFinding& finding : report_.overlaps) {
      if (Words words = of_overlap(finding)) return words;
    }
    if (report_.overlaps.size() != model_.overlaps.size()) return "not all overlaps are told";
    return of_signals();
  }

 private:
  Words of_claim(const solver::Verdict& verdict) const {
    const dsl::Claim& claim = model_.claims[verdict.claim];
    const Expected expected =
        expected_of(claim, every_.watch[verdict.claim], every_.premise[verdict.claim], within_);
    const Expected seen{verdict.outcome, verdict.ticks, verdict.vacuous};
    if (!(seen == expected)) {
      return fmt::format("claim {}: {}, but {} expected", claim.name, said(seen), said(expected));
    }
    const bool has_run =
        expected.outcome == Outcome::shown || (expected.outcome == Outcome::refuted && !claim.possible);
    if (!has_run) return {};
    if (const Words wrong = wrong_run(model_, verdict.run, claim.watch, expected.ticks)) {
      return fmt::format("claim {}: {}", claim.name, *wrong);
    }
    return {};
  }

  Words of_overlap(const solver::OverlapFinding& finding) const {
    const Length& expected = every_.overlaps[finding.overlap];
    if (!expected && !finding.run) return {};
    if (!expected || !finding.run) return fmt::format("overlap {}: found by one only", finding.overlap);
    const dsl::NodeId node = model_.overlaps[finding.overlap].both;
    if (const Words wrong = wrong_run(model_, finding.run, node, static_cast<Value>(*expected))) {
      return fmt::format("overlap {}: {}, {} ticks expected", finding.overlap, *wrong, *expected);
    }
    return {};
  }

  Words of_signals() const {
    for (std::uint32_t index = 0; index < model_.signals.size(); ++index) {
      const dsl::Signal& signal = model_.signals[index];
      if (signal.role == dsl::SignalRole::hand || model_.circuit.is_constant(signal.node)) continue;
      const bool told = std::count(report_.never_change.begin(), report_.never_change.end(), index) != 0;
      if (told == every_.changes[index]) return fmt::format("whether {} ever changes", signal.name);
    }
    return {};
  }

  const dsl::Model& model_;
  const EveryRun& every_;
  std::size_t within_;
  solver::Report report_;
};

struct Tally {
  std::size_t compared = 0, too_large = 0, without_runs = 0, refuted = 0, held = 0, vacuous = 0, shown = 0;
};

Words difference(const dsl::Model& model, Tally& tally) {
  for (const std::size_t within : bounds) {
    const EveryRun every = every_run(model, within, most_steps);
    if (!every.complete) continue;
    ++tally.compared;
    tally.without_runs += every.no_run_of ? 1 : 0;
    for (std::size_t index = 0; index < model.claims.size(); ++index) {
      const Expected expected =
          expected_of(model.claims[index], every.watch[index], every.premise[index], within);
      tally.refuted += expected.outcome == Outcome::refuted ? 1 : 0;
      tally.held += expected.outcome == Outcome::holds_up_to ? 1 : 0;
      tally.vacuous += expected.vacuous ? 1 : 0;
      tally.shown += expected.outcome == Outcome::shown ? 1 : 0;
    }
    try {
      return Comparison(model, every, within).difference();
    } catch (const solver::InternalDisagreement& fault) {
      return std::string("two readings disagree: ") + fault.what();
    }
  }
  ++tally.too_large;
  return {};
}

bool still_differs(const std::string& text) {
  Tally unused;
  const dsl::Compiled result = dsl::compile_text("", text);
  return result.model && difference(*result.model, unused).has_value();
}

}  // namespace

TEST_CASE("The bounded check answers as a look at every run does", "[verdicts]") {
  const Seeds range = seeds(150);
  Tally tally;
  for (std::uint64_t seed = range.first; seed < range.first + range.count; ++seed) {
    const std::string text = random_design(seed);
    const Words words = difference(compiled(text), tally);
    if (!words) {
      SUCCEED();
      continue;
    }
    FAIL_CHECK("seed " << seed << ": " << *words << "\n" << shrunk(text, still_differs));
  }
  WARN(fmt::format(
      "{} designs compared, {} too large, {} without runs; claims: {} held ({} vacuous), {} refuted, "
      "{} shown",
      tally.compared, tally.too_large, tally.without_runs, tally.held, tally.vacuous, tally.refuted,
      tally.shown));
  CHECK(tally.compared * 2 > range.count);  // else the comparison says little
}
