// Verdicts, summaries, warnings and errors in words; exit statuses by verdicts.
#include "cli/check_result.hpp"
#include "cli/errors_text.hpp"
#include "cli/report_text.hpp"
#include "cli/verdict_text.hpp"
#include "cli/warning_text.hpp"
#include "tests/cli/golden.hpp"
#include "tests/cli/sample.hpp"
#include "tests/support/catch.hpp"

namespace detent::test {
namespace {

using cli::CheckResult;
using cli::Status;
using solver::Limit;
using solver::Outcome;
using solver::Verdict;

CheckResult result_with(std::vector<Verdict> verdicts) {
  CheckResult result{.file = "boat.detent", .compiled = compiled_text(boat_text())};
  result.bound = cli::choose_bound(*result.compiled.model, {}).value;
  result.report.emplace();
  result.report->within = 850;
  result.report->verdicts = std::move(verdicts);
  return result;
}

Verdict verdict(Outcome outcome, dsl::Value ticks = 850, Limit limit = Limit::none) {
  return {.outcome = outcome, .ticks = ticks, .limit = limit};
}

std::string words(const Verdict& seen) {
  static const dsl::Compiled design = compiled_text(boat_text());
  return cli::verdict_words(*design.model, seen).text;
}

}  // namespace

TEST_CASE("the exit status: a refuted claim goes before an undecided one") {
  const Verdict holds = verdict(Outcome::holds_up_to);
  const Verdict refuted = verdict(Outcome::refuted);
  const Verdict undecided = verdict(Outcome::undecided, 10, Limit::time);
  CHECK(status_of(result_with({holds, verdict(Outcome::shown)})) == Status::all_hold);
  CHECK(status_of(result_with({holds, undecided})) == Status::undecided);
  CHECK(status_of(result_with({undecided, refuted, holds})) == Status::refuted);
  CheckResult contradiction = result_with({});
  contradiction.report->no_run_of = 1;
  CHECK(status_of(contradiction) == Status::input_wrong);
  CheckResult unread{.file = "x", .compiled = dsl::compile_text("x", "nonsense")};
  CHECK(status_of(unread) == Status::input_wrong);
}

TEST_CASE("a verdict names how far it reaches") {
  CHECK(words(verdict(Outcome::holds_up_to)) == "proved up to 850 ticks (17 s)");
  CHECK(words(verdict(Outcome::proved)) == "proved, in every run of any length");
  CHECK(words(verdict(Outcome::refuted, 50)) == "REFUTED: no run does it in 50 ticks (1 s)");
  CHECK(words(verdict(Outcome::undecided, 120)) == "undecided, not broken up to 120 ticks (2.4 s)");
  CHECK(words(verdict(Outcome::undecided, 0)) == "undecided");
}

TEST_CASE("undecided says which limit was reached") {
  const dsl::Compiled design = compiled_text(boat_text());
  for (const Limit limit :
       {Limit::ticks, Limit::time, Limit::memory, Limit::interrupted, Limit::solver_gave_up}) {
    CHECK_FALSE(cli::remark_words(*design.model, verdict(Outcome::undecided, 1, limit)).empty());
  }
}

TEST_CASE("a claim that says nothing is said to say nothing") {
  const dsl::Compiled design = compiled_text(boat_text());
  Verdict empty = verdict(Outcome::holds_up_to);
  empty.vacuous = true;
  CHECK(cli::remark_words(*design.model, empty) ==
        "It says nothing: its condition 'rises(live)' never comes true in 850 ticks (17 s).");
  // the condition of `never P while Q` is Q
  empty.claim = claim_named(*design.model, "no_stop");
  CHECK(cli::remark_words(*design.model, empty) ==
        "It says nothing: its condition 'live' never comes true in 850 ticks (17 s).");
}

TEST_CASE("the summary counts every verdict once, and names the bound") {
  const auto summary = [](std::vector<Verdict> verdicts) {
    const CheckResult result = result_with(std::move(verdicts));
    return cli::summary_words(*result.compiled.model, *result.report);
  };
  const Verdict holds = verdict(Outcome::holds_up_to);
  Verdict empty = holds;
  empty.vacuous = true;
  CHECK(summary({holds, holds, holds, verdict(Outcome::refuted), verdict(Outcome::undecided)}) ==
        "5 claims: 3 proved up to 850 ticks (17 s), 1 refuted, 1 undecided");
  CHECK(summary({verdict(Outcome::shown)}) == "1 claim: 1 shown possible");
  CHECK(summary({holds, empty}) ==
        "2 claims: 2 proved up to 850 ticks (17 s) (1 of the proved says nothing)");
  CHECK(summary({verdict(Outcome::proved), holds}) ==
        "2 claims: 1 proved in every run of any length, 1 proved up to 850 ticks (17 s)");
  CHECK(summary({}) == "0 claims: nothing to check");
}

TEST_CASE("a whole page") {
  CheckResult result = result_with({});
  const dsl::Model& model = *result.compiled.model;
  result.report->verdicts = {
      verdict(Outcome::holds_up_to),
      verdict_by(model, "in_time",
                 run_of(model, 232, {{1, "nudge", 1}, {30, "nudge", 0}, {231, "guard", 1}})),
      verdict(Outcome::undecided, 120, Limit::time)};
  result.report->verdicts[2].claim = claim_named(model, "stays_low");
  result.report->never_change = {3};
  result.report->statistics = {
      .solver_calls = 12, .replayed_runs = 1, .unrolled_ticks = 232, .seconds = 0.25};
  check_golden("page", cli::render(cli::report_page(result, {.statistics = true}, {}), {}));
}

TEST_CASE("overlapping lines of a stages are a warning with a run") {
  CheckResult result{.file = "boat.detent", .compiled = compiled_text(R"(tick 100 ms
button raise
button lower
stages lift is low | middle | high
  low -> middle when raise
  middle -> high when raise
  middle -> low when lower
  high -> low when lower
claim moves: possible lift is high
)")};
  const dsl::Model& model = *result.compiled.model;
  REQUIRE_FALSE(model.overlaps.empty());
  result.bound = cli::choose_bound(model, "5 s").value;
  result.report.emplace();
  result.report->within = 50;
  const solver::Run run = run_of(model, 4, {{2, "raise", 1}, {3, "lower", 1}});
  REQUIRE(solver::replay(model.circuit, run).at(3, model.overlaps[0].both) == 1);
  result.report->overlaps = {{.overlap = 0, .run = run}};
  check_golden("overlap", cli::render(cli::warnings_page(result, {}), {}));
  result.report->overlaps[0].run.reset();
  CHECK(cli::warnings_page(result, {}).empty());
}

TEST_CASE("a bound shorter than the longest time is a warning") {
  CheckResult result = result_with({});
  CHECK(cli::warnings_page(result, {}).empty());
  result.bound = cli::choose_bound(*result.compiled.model, "400 ticks").value;
  const std::string page = cli::render(cli::warnings_page(result, {}), {});
  CHECK(page.find("the longest time in the design, 400 ticks (8 s), does not fit") != std::string::npos);
}

TEST_CASE("contradicting assumptions are named") {
  CheckResult result{.file = "boat.detent", .compiled = compiled_text(R"(tick 100 ms
button go
assume always_pressed: always go
assume never_pressed: never go
claim moves: possible go
)")};
  result.bound = cli::choose_bound(*result.compiled.model, {}).value;
  result.report.emplace();
  result.report->no_run_of = 1;
  result.report->contradicting = {0, 1};
  check_golden("contradiction", cli::render(cli::contradiction_page(result, {}), {}));
}

TEST_CASE("a run that may not be the shortest says so") {
  CheckResult result{.file = "boat.detent",
                     .compiled = compiled_text("tick 100 ms\nbutton go\nclaim still: never go\n")};
  const dsl::Model& model = *result.compiled.model;
  Verdict known{.outcome = Outcome::refuted, .ticks = 1, .run = solver::Run{{{1}}}};
  CHECK(cli::remark_words(model, known).empty());
  known.limit = Limit::time;
  known.ticks = 5;
  const std::string remark = cli::remark_words(model, known);
  CHECK(remark.find("A shorter run may do as well") != std::string::npos);
  CHECK(remark.find("none of up to 5 ticks") != std::string::npos);
  CHECK(remark.find("--timeout was over") != std::string::npos);
}

TEST_CASE("every mistake of a text is shown, and counted") {
  const dsl::Compiled wrong = dsl::compile_text("boat.detent", "tick 20 ms\nsignal a = b\nsignal c = d\n");
  REQUIRE_FALSE(wrong.model);
  const std::string page = cli::render(cli::errors_page(wrong, {}), {});
  CHECK(page.find("boat.detent:2:12") != std::string::npos);
  CHECK(page.find("boat.detent:3:12") != std::string::npos);
  CHECK(page.find("2 errors") != std::string::npos);
  CHECK(page.find("nothing was checked") != std::string::npos);
}

}  // namespace detent::test
