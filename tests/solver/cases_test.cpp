// Many models at once: what is known from a case before must be what each case says by itself.
#include "solver/cases.hpp"

#include <numeric>
#include <string>

#include "cli/reader.hpp"
#include "dsl/fault_list.hpp"
#include "dsl/twins.hpp"
#include "solver/forever.hpp"
#include "solver/interpreter.hpp"
#include "tests/support/altered.hpp"
#include "tests/support/catch.hpp"

using namespace detent;
using namespace detent::test;
using solver::Outcome;

namespace {

std::vector<dsl::Model> faulty_models(const std::string& spec) {
  const std::string path = DETENT_SOURCE_DIR "/specs/" + spec;
  const dsl::Compiled compiled = dsl::compile(path, cli::file_reader(path));
  std::vector<dsl::Model> models{*compiled.model};
  for (const dsl::Alteration& fault : dsl::list_faults(*compiled.design, {})) {
    models.push_back(model_of(dsl::with_faults(*compiled.design, {fault}), compiled.sources));
  }
  return models;
}

solver::Case all_claims(const dsl::Model& model) {
  solver::Case one{model, std::vector<std::uint32_t>(model.claims.size())};
  std::iota(one.claims.begin(), one.claims.end(), 0U);
  return one;
}

}  // namespace

TEST_CASE("What a case takes over from another is what it says alone") {
  const std::vector<dsl::Model> models = faulty_models("flagship/two_step_unlock.detent");
  const bool wants_runs = GENERATE(true, false);
  solver::Memo memo;
  const solver::CasesReport report = solver::check_cases(
      models.size(), [&](std::size_t index) { return all_claims(models[index]); },
      {.jobs = 2, .wants_runs = wants_runs}, memo);
  CHECK(report.known > 20);
  CHECK((report.by_chance > 0) == !wants_runs);
  for (std::size_t index = 0; index < models.size(); ++index) {
    const solver::Report alone = solver::check_forever(models[index], {.side_findings = false});
    const solver::CaseAnswer& answer = report.answers[index];
    REQUIRE(answer.verdicts.size() == alone.verdicts.size());
    for (std::size_t claim = 0; claim < alone.verdicts.size(); ++claim) {
      INFO("case " << index << ", claim " << models[index].claims[claim].name);
      const solver::Verdict& verdict = answer.verdicts[claim];
      CHECK(verdict.claim == claim);
      CHECK(verdict.outcome == alone.verdicts[claim].outcome);
      if (wants_runs && verdict.outcome == Outcome::refuted && alone.verdicts[claim].run) {
        REQUIRE(verdict.run);
        const solver::Trace trace = solver::replay(models[index].circuit, *verdict.run);
        CHECK(trace.at(trace.ticks() - 1, models[index].claims[claim].watch) != 0);
      }
    }
  }
}

TEST_CASE("Two claims have one key exactly where they look at the same circuit") {
  const dsl::Model model = *front(R"(tick 10 ms
button a
button b
latch l set a reset b
latch m set a reset b set wins
claim one: never l while b
claim same: whenever b: not l
claim other: never m while b
claim free: never a while b
)")
                                .model;
  const auto key = [&](std::uint32_t claim) { return solver::key_of(model, claim); };
  CHECK(key(0) == key(1));
  CHECK(key(0) != key(2));
  CHECK(key(0) != key(3));
}

TEST_CASE("A case that was not reached says so") {
  const dsl::Model model = *front("tick 10 ms\nbutton a\nclaim c: never a\n").model;
  const std::atomic<bool> stop{true};
  solver::Memo memo;
  const solver::CasesReport report = solver::check_cases(
      3, [&](std::size_t) { return all_claims(model); }, {.cancel = &stop}, memo);
  for (const solver::CaseAnswer& answer : report.answers) CHECK_FALSE(answer.looked_at);
}

TEST_CASE("A case without any run has no verdicts") {
  const dsl::Model model =
      *front("tick 10 ms\nbutton a\nassume x: always a\nassume y: never a\nclaim c: never a\n").model;
  solver::Memo memo;
  for (const bool wants_runs : {true, false}) {
    const solver::CasesReport report = solver::check_cases(
        1, [&](std::size_t) { return all_claims(model); }, {.wants_runs = wants_runs}, memo);
    CHECK(report.answers[0].no_run_of == 1);
    CHECK(report.answers[0].verdicts.empty());
  }
}
