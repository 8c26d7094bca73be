// Every design in specs/ for all time: what the file says holds is proved, what it says falls is refuted by a
// run or by a proof that there is none, and what it says can be done is shown. Each proof is put to the
// programs z3 and cvc5 as three questions in SMT-LIB. Each mistake in specs/mistakes is mended as its comment
// says, and then everything it claims has to hold.
//
// Checked: each proof of every shipped design, as three questions to two other solvers | SMT-LIB 2.6; an
// invariant is checked apart from how it was found: Bradley, VMCAI 2011 | the format read; the rule from
// memory
#include <fmt/format.h>

#include <algorithm>
#include <chrono>

#include "solver/forever.hpp"
#include "tests/specs/examined_spec.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/other_solvers.hpp"
#include "tests/support/shipped.hpp"

using namespace detent;
using namespace detent::test;
using solver::Outcome;

namespace {

std::vector<std::string> solvers() {
  std::string missing;
  std::vector<std::string> found = solvers_here(missing);
  if (!missing.empty()) WARN(missing << "it was not asked");
  return found;
}

solver::Report for_all_time(const dsl::Model& model) {
  solver::ForeverOptions options;
  options.timeout = std::chrono::seconds(60);
  options.jobs = 2;
  options.side_findings = false;
  options.small_proofs = true;
  return solver::check_forever(model, options);
}

/// In the words of the file, without the tick: the runs of the two engines are shortest in different ways.
std::string word_of(const solver::Verdict& verdict) {
  const std::string words = verdict_words(verdict);
  return words.substr(0, words.find(" at tick"));
}

std::string word_in_file(const Expectations& expected, const std::string& claim) {
  for (const Expectation& one : expected.verdicts) {
    if (one.claim == claim) return one.verdict.substr(0, one.verdict.find(" at tick"));
  }
  return "no expectation";
}

/// Every run is played again, every proof put to the other solvers; gives the number of proofs.
std::size_t examine_report(const dsl::Model& model, const solver::Report& report,
                           const std::vector<std::string>& others) {
  std::vector<solver::Proof> proofs;
  for (const solver::Verdict& verdict : report.verdicts) {
    const dsl::Claim& claim = model.claims[verdict.claim];
    INFO(claim.name);
    if (verdict.run) CHECK(run_problem(model, claim, *verdict.run).empty());
    // Whatever is said of all runs rests on a proof.
    CHECK((verdict.run || verdict.proof));
    if (verdict.proof) proofs.push_back(*verdict.proof);
  }
  CHECK(objection(others, model, proofs).empty());
  return proofs.size();
}

}  // namespace

TEST_CASE("Every design has its verdicts for all time, and two other solvers confirm the proofs",
          "[evidence]") {
  const std::vector<std::string> others = solvers();
  std::size_t confirmed = 0;
  for (const std::string& path : shipped_files()) {
    const dsl::Compiled compiled = compile_changed(path, {});
    if (!compiled.model || compiled.model->claims.empty()) continue;
    INFO(path);
    const Expectations expected = read_expectations(compiled.sources.text(0));
    const solver::Report report = for_all_time(*compiled.model);
    for (const solver::Verdict& verdict : report.verdicts) {
      const std::string& name = compiled.model->claims[verdict.claim].name;
      INFO(name);
      CHECK(word_of(verdict) == word_in_file(expected, name));
    }
    confirmed += examine_report(*compiled.model, report, others);
  }
  CHECK(confirmed >= 150);
  WARN(confirmed << " proofs, " << others.size() << " solvers");
}

TEST_CASE("Every mistake that is mended as its comment says keeps all its claims for all time",
          "[evidence]") {
  const std::vector<std::string> others = solvers();
  const std::vector<std::string> paths = shipped_files("mistakes");
  REQUIRE(paths.size() >= 20);
  for (const std::string& path : paths) {
    INFO(path);
    const dsl::Compiled compiled = compile_changed(path, mended);
    REQUIRE(compiled.model.has_value());
    CHECK(compiled.diagnostics.empty());
    const solver::Report report = for_all_time(*compiled.model);
    for (const solver::Verdict& verdict : report.verdicts) {
      const dsl::Claim& claim = compiled.model->claims[verdict.claim];
      INFO(claim.name);
      CHECK(verdict.outcome == (claim.possible ? Outcome::shown : Outcome::proved));
      CHECK_FALSE(verdict.vacuous);
    }
    examine_report(*compiled.model, report, others);
  }
}

TEST_CASE("A mend that does not fit its design is noticed") {
  const std::string text = "// Mend: write\n//   output a = true\n";
  const std::string place = "// in the place of the line that begins: output a\n";
  CHECK(mended(text + place + "output a = false\n") == text + place + "output a = true\n");
  CHECK_THROWS(mended(text + "output a = false\n"));
  CHECK_THROWS(mended(text + place + "output b = false\n"));
  CHECK_THROWS(mended(text + place + "output a = false\noutput a1 = false\n"));
}
