// Faults and slips of random designs. What the studies say is held against every short run, looked at one
// after another on the interpreter: no cleverness about what an alteration touches may change a verdict.
#include <fmt/format.h>

#include <string>

#include "cli/fault_study.hpp"
#include "cli/gap_study.hpp"
#include "dsl/fault_list.hpp"
#include "dsl/slip_list.hpp"
#include "dsl/twins.hpp"
#include "tests/support/altered.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/design_generator.hpp"
#include "tests/support/every_run.hpp"
#include "tests/support/seeds.hpp"

using namespace detent;
using namespace detent::test;
using solver::Outcome;

namespace {

constexpr std::size_t ticks = 7;
constexpr std::size_t most_steps = 30'000;

/// A verdict against all short runs: what they show is so, and what is proved they never show.
void compare(const dsl::Model& model, const solver::Verdict& verdict, const EveryRun& every) {
  const dsl::Claim& claim = model.claims[verdict.claim];
  const Length seen = every.watch[verdict.claim];
  INFO(claim.name << ": " << claim.text);
  const bool in_time = seen && (!claim.within || static_cast<dsl::Value>(*seen) <= *claim.within + 1);
  if (in_time) {
    CHECK((verdict.outcome == Outcome::undecided ||
           verdict.outcome == (claim.possible ? Outcome::shown : Outcome::refuted)));
  } else if (every.forever) {
    CHECK((verdict.outcome == Outcome::undecided ||
           verdict.outcome == (claim.possible ? Outcome::refuted : Outcome::proved)));
  }
}

}  // namespace

TEST_CASE("Faults of random designs: every verdict agrees with all short runs", "[alterations]") {
  const Seeds which = seeds(24);
  std::size_t compared = 0;
  for (std::uint64_t seed = which.first; seed < which.first + which.count; ++seed) {
    const std::string text = random_design(seed);
    INFO("seed " << seed << "\n" << text);
    const dsl::Compiled compiled = front(text);
    const std::vector<dsl::Alteration> list =
        dsl::list_faults(*compiled.design, {.tolerance = 100'000, .bounce_ticks = 1});
    const cli::FaultStudy study =
        cli::study_faults(*compiled.design, compiled.sources, list, {},
                          {.timeout = std::chrono::milliseconds(300), .jobs = 2}, {});
    for (const cli::FaultCase& one : study.singles) {
      const dsl::Model model = cli::model_with(*compiled.design, compiled.sources, list, one.faults);
      const EveryRun every = every_run(model, ticks, most_steps);
      if (!every.complete || every.dead_end) continue;
      INFO(list[one.faults.front()].name);
      for (const solver::Verdict& verdict : one.answer.verdicts) compare(model, verdict, every);
      compared += one.answer.verdicts.size();
    }
  }
  CHECK((which.count < 24 || compared > 100));
}

TEST_CASE("Slips of random designs: who notices, and what changes nothing, agrees with all short runs",
          "[alterations]") {
  const Seeds which = seeds(24);
  std::size_t compared = 0;
  for (std::uint64_t seed = which.first; seed < which.first + which.count; ++seed) {
    const std::string text = random_design(seed);
    INFO("seed " << seed << "\n" << text);
    const dsl::Compiled compiled = front(text);
    const cli::GapStudy study = cli::study_gaps(*compiled.design, compiled.sources,
                                                {.timeout = std::chrono::milliseconds(300), .jobs = 2}, {});
    for (const cli::Slip& slip : study.slips) {
      INFO(slip.what.name);
      const dsl::Model both = model_of(dsl::beside_original(*compiled.design, slip.what), compiled.sources);
      const EveryRun every = every_run(both, ticks, most_steps);
      if (every.complete && !every.dead_end && slip.fate == cli::Slip::Fate::no_effect) {
        CHECK_FALSE(every.watch[0]);
        ++compared;
      }
      const dsl::Model model = model_of(dsl::altered(*compiled.design, slip.what), compiled.sources);
      const EveryRun changed = every_run(model, ticks, most_steps);
      if (!changed.complete || changed.dead_end || slip.fate == cli::Slip::Fate::undecided) continue;
      for (const std::uint32_t claim : study.claims) {
        if (model.claims[claim].possible || !changed.watch[claim]) continue;
        INFO(model.claims[claim].name);
        CHECK(std::count(slip.noticed_by.begin(), slip.noticed_by.end(), claim) == 1);
        ++compared;
      }
    }
  }
  CHECK((which.count < 24 || compared > 50));
}
