// Fischer's mutual exclusion (Abadi and Lamport, TOPLAS 16(5), 1994, section 3.4; contents seen). With whole
// time, the write at most A after the read and the entry at least B after the write, two are never inside
// together exactly if B > A; the shortest run to it has 6 moves and takes 2 B. Computed by exhaustive
// enumeration for 2 and 3 parties, A from 0 to 3 and B from 0 to 4. How moves and time map onto ticks:
// tests/support/fischer.cpp.
//
// Checked: Fischer's mutual exclusion: safe exactly where published, length of the shortest violation |
// Abadi, Lamport, TOPLAS 16(5), 1994, 3.4 | contents seen; values computed by enumeration
#include <cstdlib>

#include "solver/bounded.hpp"
#include "solver/forever.hpp"
#include "solver/interpreter.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"
#include "tests/support/fischer.hpp"

using namespace detent;
using namespace detent::test;

namespace {

using dsl::Value;
using solver::Outcome;

/// Moves in a row of the shortest run: read, write, other's write, entry; each takes a tick beside the time.
constexpr std::size_t moves_in_a_row = 4;

std::size_t ticks_of_violation(const FischerDelays& delays) {
  return 2 * delays.wait + moves_in_a_row;
}

solver::Verdict verdict(const dsl::Model& model) {
  solver::ForeverOptions options;
  options.claims = {0};
  options.timeout = std::chrono::minutes(10);
  options.side_findings = false;
  return solver::check_forever(model, options).verdicts[0];
}

/// How often any party is in another stage than the tick before.
std::size_t moves(const dsl::Model& model, const solver::Run& run, std::size_t parties) {
  const solver::Trace trace = solver::replay(model.circuit, run);
  std::size_t count = 0;
  for (std::size_t number = 1; number <= parties; ++number) {
    const dsl::NodeId node = signal_named(model, "party" + std::to_string(number)).node;
    Value before = 0;
    for (std::size_t tick = 0; tick < trace.ticks(); ++tick) {
      count += trace.at(tick, node) != before ? 1U : 0U;
      before = trace.at(tick, node);
    }
  }
  return count;
}

void check_published(std::size_t parties, const FischerDelays& delays) {
  INFO(parties << " parties, write within " << delays.write << ", wait " << delays.wait);
  const dsl::Model model = compiled(fischer(parties, delays));
  const solver::Verdict answer = verdict(model);
  if (delays.wait > delays.write) {
    CHECK(answer.outcome == Outcome::proved);
    CHECK(answer.proof);
    return;
  }
  REQUIRE(answer.outcome == Outcome::refuted);
  CHECK(answer.run->ticks() == ticks_of_violation(delays));
  CHECK(moves(model, *answer.run, parties) == 6);
}

bool all_wanted() {
  return std::getenv("DETENT_ALL_REFERENCE") != nullptr;  // NOLINT(concurrency-mt-unsafe)
}

}  // namespace

TEST_CASE("Two parties of Fischer's protocol are apart exactly if the wait is longer than the write takes") {
  for (std::size_t write = 0; write <= 3; ++write) {
    for (std::size_t wait = 0; wait <= 4; ++wait) check_published(2, {write, wait});
  }
}

TEST_CASE("Three parties: the delays next to the edge; all with DETENT_ALL_REFERENCE=1") {
  for (std::size_t write = 0; write <= 3; ++write) {
    for (std::size_t wait = 0; wait <= 4; ++wait) {
      const bool by_default = (write == 1 && wait == 1) || (write == 1 && wait == 2);
      if (by_default || all_wanted()) check_published(3, {write, wait});
    }
  }
}

TEST_CASE("No run of Fischer's protocol violates earlier than published, looked at tick by tick") {
  for (const FischerDelays& delays : {FischerDelays{2, 2}, FischerDelays{3, 1}, FischerDelays{0, 0}}) {
    const dsl::Model model = compiled(fischer(2, delays));
    const auto length = static_cast<Value>(ticks_of_violation(delays));
    const auto outcome = [&](Value within) {
      return solver::check_bounded(model, {.within = within, .claims = {0}, .side_findings = false})
          .verdicts[0]
          .outcome;
    };
    CHECK(outcome(length - 1) == Outcome::holds_up_to);
    CHECK(outcome(length) == Outcome::refuted);
  }
}

TEST_CASE("Two parties with delays of a thousand ticks") {
  check_published(2, {1000, 1001});
  check_published(2, {1000, 1000});
}
