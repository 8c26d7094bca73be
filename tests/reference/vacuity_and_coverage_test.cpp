// What a proof may leave unsaid: premises that never come true, and parts that no claim watches.
//
// That TON is off while its input is does not notice a time that is a tick wrong; that it is on exactly when
// the input has been on for PT does.
//
// Checked: vacuity: an answer to requests that are never sent | Beer and others, CAV 1997; Kupferman, Vardi,
// CHARME 1999 | abstracts read
//
// Checked: coverage: which claim notices a timer that is a tick wrong | Chockler, Kupferman, Vardi, 2001 |
// abstract read; check derived
//
// Checked: timed vacuity: a bound that could be tighter | Chockler, Guha, Kupferman, 2018 | abstract read;
// check derived
#include <fmt/format.h>

#include <chrono>

#include "solver/forever.hpp"
#include "tests/support/altered.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"

using namespace detent;
using namespace detent::test;
using solver::Outcome;

namespace {

solver::Verdict first_verdict(const dsl::Model& model) {
  solver::ForeverOptions options;
  options.timeout = std::chrono::seconds(60);
  options.side_findings = false;
  return solver::check_forever(model, options).verdicts.at(0);
}

const std::string timer = "tick 1 ms\nbutton in\ndelay q on in for 4 ticks\n";

}  // namespace

TEST_CASE("A request that is never sent is answered, vacuously") {
  const std::string never_sent =
      "tick 1 ms\nbutton ask\nlatch request set ask and not ask reset ask\nlatch grant set request reset "
      "ask\n";
  const solver::Verdict verdict =
      first_verdict(compiled(never_sent + "claim c: whenever request: grant within 3 ticks"));
  CHECK(verdict.outcome == Outcome::proved);
  CHECK(verdict.vacuous);
  const std::string sent = "tick 1 ms\nbutton request\nlinger grant on request for 3 ticks\n";
  const solver::Verdict meant =
      first_verdict(compiled(sent + "claim c: whenever request: grant within 3 ticks"));
  CHECK(meant.outcome == Outcome::proved);
  CHECK_FALSE(meant.vacuous);
}

TEST_CASE("TON: a time that is a tick wrong is noticed by one claim and not by the other") {
  const std::string off_with_it = "claim c: whenever not in: not q";
  const std::string on_in_time = "claim c: always q == held(in, 4 ticks)";
  for (const char* slip : {"q a tick longer (5 ms for 4 ms)", "q a tick shorter (3 ms for 4 ms)"}) {
    INFO(slip);
    CHECK(first_verdict(with_slip(timer + off_with_it, slip)).outcome == Outcome::proved);
    CHECK(first_verdict(with_slip(timer + on_in_time, slip)).outcome == Outcome::refuted);
  }
}

TEST_CASE("A bound that could be tighter holds all the same, and the tightest one does not give way") {
  const auto answered = [](int ticks) {
    return first_verdict(compiled("tick 1 ms\nbutton ask\nsignal answer = previous(previous(ask))\n" +
                                  fmt::format("claim c: whenever ask: answer within {} ticks", ticks)))
        .outcome;
  };
  CHECK(answered(4) == Outcome::proved);
  CHECK(answered(2) == Outcome::proved);
  CHECK(answered(1) == Outcome::refuted);
}
