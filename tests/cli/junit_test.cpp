// JUnit XML against tests/cli/schemas/junit.xsd by xmllint, and read back by Python's junitparser.
//
// Checked: JUnit XML: the strict form, no forbidden character, read back by another program | no official
// description: the form of Ant's reports; XML 1.0, 2.2 | the form as in secondary sources; XML from memory
#include <ctime>
#include <nlohmann/json.hpp>

#include "cli/export/junit.hpp"
#include "tests/cli/sample.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/outside.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"

namespace detent::test {
namespace {

using nlohmann::json;

const std::string xsd = DETENT_SOURCE_DIR "/tests/cli/schemas/junit.xsd";

/// What xmllint has against a report, "" for nothing or where it is missing.
std::string objection(const std::string& xml) {
  const auto xmllint = needed("xmllint", "libxml2-utils");
  if (!xmllint) {
    WARN("xmllint is not installed; it was not asked");
    return "";
  }
  const Folder folder;
  const ProcessResult result =
      run_process({*xmllint, "--noout", "--nonet", "--schema", xsd, folder.write("report.xml", xml)});
  return result.status == 0 ? "" : result.errors;
}

constexpr const char* reader = R"(
import json, sys, junitparser
report = junitparser.JUnitXml.fromfile(sys.argv[1])
suites = []
for suite in report:
    suites.append({'name': suite.name, 'tests': suite.tests, 'failures': suite.failures, 'errors': suite.errors,
                   'time': suite.time,
                   'cases': [{'name': case.name, 'class': case.classname,
                              'result': [[type(one).__name__, one.type, one.message, one.text] for one in case.result]}
                             for case in suite]})
print(json.dumps(suites))
)";

/// The one suite as junitparser reads it; null where it is not installed.
json read_back(const std::string& xml) {
  const Folder folder;
  const auto said =
      said_by_python("junitparser", "python3-junitparser", reader, {folder.write("report.xml", xml)});
  if (!said) {
    WARN("Python's junitparser is not installed; it was not asked");
    return nullptr;
  }
  const json suites = json::parse(*said);
  REQUIRE(suites.size() == 1);
  return suites[0];
}

ProcessResult export_junit(const std::string& file, std::vector<std::string> more = {}) {
  std::vector<std::string> words{"export", file, "--as", "junit"};
  words.insert(words.end(), more.begin(), more.end());
  return run_detent(words, {.directory = DETENT_SOURCE_DIR});
}

}  // namespace

TEST_CASE("shipped designs as JUnit XML, read back", "[export][junit]") {
  for (const char* name : {"boat/pump_jet", "boat/flaw_window_kept_alive", "functions/two_hand_type_1"}) {
    const std::string file = std::string("specs/") + name + ".detent";
    INFO(file);
    const ProcessResult result = export_junit(file);
    CHECK(objection(result.output) == "");
    const json suite = read_back(result.output);
    if (suite.is_null()) continue;
    const json report =
        json::parse(run_detent({"check", file, "--format", "json"}, {.directory = DETENT_SOURCE_DIR}).output);
    REQUIRE(suite["cases"].size() == report["verdicts"].size());
    CHECK(suite["tests"] == report["verdicts"].size());
    std::size_t failures = 0;
    for (std::size_t index = 0; index < suite["cases"].size(); ++index) {
      const json& one = suite["cases"][index];
      const json& verdict = report["verdicts"][index];
      CHECK(one["name"] == verdict["claim"]);
      const bool refuted = verdict["outcome"] == "refuted";
      failures += refuted ? 1 : 0;
      REQUIRE(one["result"].size() == (refuted ? 1 : 0));
      if (!refuted) continue;
      CHECK(one["result"][0][0] == "Failure");
      CHECK(one["result"][0][1] == "refuted");
      CHECK(has(one["result"][0][2], "REFUTED by a run of"));
      CHECK(has(one["result"][0][3], "Here the claim breaks"));
    }
    CHECK(suite["failures"] == failures);
    CHECK(suite["errors"] == 0);
    CHECK((failures > 0) == (result.status == 1));
    CHECK(has(result.output, "blade or propeller off"));
  }
  const json boat = read_back(export_junit("specs/boat/pump_jet.detent").output);
  if (boat.is_null()) return;
  CHECK(boat["name"] == "pump_jet");
  CHECK(boat["cases"][0]["class"] == "specs.boat.pump_jet");
}

TEST_CASE("what is not known does not go green", "[export][junit]") {
  const Folder folder;
  const auto troubles = [&](const std::string& text, const std::vector<std::string>& more = {}) {
    const ProcessResult result = export_junit(folder.write("x.detent", text), more);
    CHECK(objection(result.output) == "");
    CHECK(result.status != 0);
    const json suite = read_back(result.output);
    if (suite.is_null()) return std::string();
    CHECK(suite["errors"] == 1);
    for (const json& one : suite["cases"]) {
      if (!one["result"].empty())
        return one["result"][0][0].get<std::string>() + " " + one["result"][0][1].get<std::string>();
    }
    return std::string("none");
  };
  const std::string undecided =
      troubles("tick 20 ms\nbutton a\nclaim far: possible a and held(a, 9 s)\n", {"--within", "5 ticks"});
  const std::string wrong = troubles("tick 20 ms\nsignal b = c\n");
  const std::string clash =
      troubles("tick 20 ms\nbutton b\nassume one: always b\nassume two: never b\nclaim c: never b\n");
  const std::string missing = troubles("");
  if (wrong.empty()) return;
  CHECK(undecided == "Error undecided");
  CHECK(wrong == "Error text");
  CHECK(clash == "Error contradiction");
  CHECK(missing == "Error text");
}

TEST_CASE("nothing in a design breaks the XML", "[export][junit]") {
  // U+0001, ESC, U+FFFE, U+FFFF, a lone surrogate in UTF-8, and what XML itself is written with.
  const std::string nasty =
      "a\x01\x1b[31m\xEF\xBF\xBE\xEF\xBF\xBF\xED\xA0\x80 ]]> <b attr='x'> & &amp; \xC2\x85";
  cli::CheckResult result{
      .file = "x.detent",
      .compiled = compiled_text("tick 20 ms\nbutton b\nclaim c \"doc\": never b\nclaim d: possible b\n")};
  dsl::Model& model = *result.compiled.model;
  model.claims[0].doc = model.claims[0].name = model.title = nasty;
  result.report.emplace();
  result.report->verdicts = {
      verdict_by(model, nasty, run_of(model, 2, {{1, "b", 1}})),
      {.claim = 1, .outcome = solver::Outcome::undecided, .limit = solver::Limit::time}};
  result.report->statistics.seconds = 1.25;
  std::tm day{};
  day.tm_year = 126;
  day.tm_mon = 1;
  day.tm_mday = 3;
  day.tm_hour = 4;
  const std::string xml = cli::junit_text({&result}, timegm(&day));
  CHECK(objection(xml) == "");
  CHECK(has(xml, "timestamp=\"2026-02-03T04:00:00\""));
  CHECK(has(xml, "tests=\"2\" failures=\"1\" errors=\"1\" time=\"1.250\""));
  CHECK(has(xml, "]]&gt; &lt;b attr=&#39;x&#39;&gt; &amp; &amp;amp;"));
}

TEST_CASE("several designs are a suite each, or a run in SARIF, in one document", "[export][junit][sarif]") {
  const auto check_two = [](const std::string& format) {
    return run_detent({"check", DETENT_SOURCE_DIR "/specs/boat/pump_jet.detent",
                       DETENT_SOURCE_DIR "/specs/mistakes/reset_starts.detent", "--format", format});
  };
  const ProcessResult junit = check_two("junit");
  CHECK(junit.status == 1);
  CHECK(objection(junit.output) == "");
  CHECK(has(junit.output, "id=\"1\""));
  CHECK_FALSE(has(junit.output, "id=\"2\""));
  CHECK(has(junit.output, "<failure"));
  const ProcessResult sarif = check_two("sarif");
  CHECK(sarif.status == 1);
  const auto log = nlohmann::json::parse(sarif.output);
  REQUIRE(log["runs"].size() == 2);
  CHECK(log["runs"][0]["invocations"][0]["exitCode"] == 0);
  CHECK(log["runs"][1]["invocations"][0]["exitCode"] == 1);
}

TEST_CASE("the description of JUnit XML refuses what is damaged", "[export][junit]") {
  const std::string good = export_junit("specs/boat/flaw_window_kept_alive.detent").output;
  REQUIRE(objection(good) == "");
  if (!needed("xmllint", "libxml2-utils")) return;
  const auto with = [&](const std::string& from, const std::string& to) {
    std::string bad = good;
    const std::size_t place = bad.find(from);
    REQUIRE(place != std::string::npos);
    return bad.replace(place, from.size(), to);
  };
  CHECK(objection(with(" type=\"refuted\"", "")) != "");
  CHECK(objection(with("hostname=\"localhost\" ", "")) != "");
  CHECK(objection(with("timestamp=\"20", "timestamp=\"")) != "");
  CHECK(objection(with("<system-err></system-err>", "")) != "");
  CHECK(objection(with("<testsuite ", "<suite ")) != "");
  CHECK(objection(with("Here the claim", "\x1b the claim")) != "");
}

}  // namespace detent::test
