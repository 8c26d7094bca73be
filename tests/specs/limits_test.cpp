// A limit may leave a question open, never answer it: with any time allowed, what is said agrees with what is
// said with all the time in the world.
#include <chrono>
#include <string>

#include "cli/reader.hpp"
#include "dsl/front.hpp"
#include "solver/bounded.hpp"
#include "solver/forever.hpp"
#include "tests/support/catch.hpp"

using namespace detent;
using solver::Outcome;

namespace {

constexpr solver::Value looked_at = 60;

dsl::Model spec(const std::string& name) {
  const std::string path = DETENT_SOURCE_DIR "/specs/" + name;
  return *dsl::compile(path, cli::file_reader(path)).model;
}

/// Only what is decided, and how far the rest is known, is compared: a run found in haste may be longer.
void compare(const solver::Report& whole, const solver::Report& hasty) {
  REQUIRE(whole.verdicts.size() == hasty.verdicts.size());
  for (std::size_t index = 0; index < whole.verdicts.size(); ++index) {
    const solver::Verdict& right = whole.verdicts[index];
    const solver::Verdict& said = hasty.verdicts[index];
    INFO("claim " << right.claim << ", known for " << said.ticks << " ticks and " << said.events << " events");
    if (said.outcome != Outcome::undecided) {
      CHECK(said.outcome == right.outcome);
    } else if (right.run) {
      CHECK(said.ticks < static_cast<solver::Value>(right.run->ticks()));
      CHECK(said.events < static_cast<int>(right.run->ticks()));
    } else if (right.outcome == Outcome::undecided) {
      CHECK(said.ticks <= right.ticks);  // a `possible` that takes longer than was looked at
    }
  }
}

}  // namespace

TEST_CASE("No time limit makes a verdict wrong") {
  using namespace std::chrono_literals;
  for (const char* name : {"boat/flaw_switch_on_at_power_up.detent", "arena/flaw_arms_itself_on_return.detent",
                           "winch/flaw_starts_with_the_power.detent", "flagship/two_step_unlock.detent"}) {
    const dsl::Model model = spec(name);
    const solver::Report forever = solver::check_forever(model, {});
    const solver::Report bounded = solver::check_bounded(model, {.within = looked_at});
    for (const auto allowed : {1ms, 5ms, 15ms, 30ms, 60ms, 120ms, 240ms}) {
      INFO(name << " with " << allowed.count() << " ms");
      compare(forever, solver::check_forever(model, {.timeout = allowed}));
      compare(bounded, solver::check_bounded(model, {.within = looked_at, .timeout = allowed}));
    }
  }
}
