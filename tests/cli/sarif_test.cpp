// SARIF logs against the schema in tests/cli/schemas, by Python's jsonschema; against the rules that stand in
// the standard's prose only (section numbers beside each); and what they say of runs against check --format
// json, whose runs are held against the interpreter elsewhere.
//
// Checked: SARIF logs of designs, good and wrong: the schema, by another program, and rules of the prose |
// SARIF 2.1.0 with errata 01 (OASIS) | the schema as a package ships it; the prose as reproduced in secondary
// sources
#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "cli/export/sarif_place.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/outside.hpp"
#include "tests/support/process.hpp"
#include "tests/support/shipped.hpp"

namespace detent::test {
namespace {

using nlohmann::json;

const std::string schema_file = DETENT_SOURCE_DIR "/tests/cli/schemas/sarif-2.1.0.json";

struct Log {
  int status = -1;
  std::string text;
  json run;
};

Log export_sarif(const std::string& file, std::vector<std::string> more = {}) {
  std::vector<std::string> words{"export", file, "--as", "sarif"};
  words.insert(words.end(), more.begin(), more.end());
  const ProcessResult result = run_detent(words);
  INFO(result.errors);
  const json log = json::parse(result.output);
  REQUIRE(log["version"] == "2.1.0");
  REQUIRE(log["runs"].size() == 1);
  return {result.status, result.output, log["runs"][0]};
}

/// Line N of a text, from 1, without its end.
std::string line_of(const std::string& text, std::size_t number) {
  std::size_t begin = 0;
  for (; number > 1; --number) begin = text.find('\n', begin) + 1;
  return text.substr(begin, text.find('\n', begin) - begin);
}

// ---- The standard's prose ----

void check_result(const json& run, const json& result) {
  const json& rules = run["tool"]["driver"]["rules"];
  // 3.27.7: ruleIndex is the index of the rule; 3.27.5: ruleId equals its id.
  REQUIRE(result["ruleIndex"] < rules.size());
  CHECK(rules[result["ruleIndex"].get<std::size_t>()]["id"] == result["ruleId"]);
  // 3.27.10: of another kind than "fail", level is "none"; a failure without a level would be a warning.
  CHECK((result["kind"] == "fail") == (result["level"] != "none"));
  CHECK_FALSE(result["message"]["text"].get<std::string>().empty());
}

void check_locations(const json& run, const json& part) {
  if (part.is_array()) {
    for (const json& one : part) check_locations(run, one);
  } else if (part.is_object()) {
    if (part.contains("artifactLocation") && part.contains("region")) {
      // 3.4.5: index and uri denote the same artifact.
      const json& location = part["artifactLocation"];
      REQUIRE(location["index"] < run["artifacts"].size());
      CHECK(run["artifacts"][location["index"].get<std::size_t>()]["location"]["uri"] == location["uri"]);
      // 3.30: from 1, the end not before the beginning.
      const json& region = part["region"];
      const auto at = [&](const char* line, const char* column) {
        return std::pair(region[line].get<int>(), region[column].get<int>());
      };
      CHECK(at("startLine", "startColumn") >= std::pair(1, 1));
      CHECK(at("startLine", "startColumn") <= at("endLine", "endColumn"));
    }
    for (const auto& [name, member] : part.items()) check_locations(run, member);
  }
}

void check_prose(const Log& log) {
  const json& run = log.run;
  CHECK(run["columnKind"] == "utf16CodeUnits");
  REQUIRE(run["results"].is_array());  // 3.14.23: there, and empty where there is nothing
  std::set<std::string> ids;
  for (const json& rule : run["tool"]["driver"]["rules"]) CHECK(ids.insert(rule["id"]).second);  // 3.19.23
  for (const json& result : run["results"]) check_result(run, result);
  check_locations(run, run["results"]);
  REQUIRE(run["invocations"].size() == 1);
  CHECK(run["invocations"][0]["exitCode"] == log.status);
  CHECK(run["invocations"][0]["executionSuccessful"] == (log.status != 2));  // 3.20.14
}

void check_schema(const std::vector<std::string>& logs) {
  std::vector<DocumentOfSchema> documents;
  for (const std::string& log : logs) documents.push_back({schema_file, log});
  const auto said = said_by_jsonschema(documents);
  if (!said) {
    WARN("Python's jsonschema is not installed; it was not asked");
    return;
  }
  for (const std::string& objection : *said) CHECK(objection == "");
}

// ---- The runs ----

std::string words_of(const json& signal, const json& value) {
  if (signal["kind"] == "position") return value;
  if (signal["kind"] == "condition") return signal["words"][value.get<bool>() ? 1 : 0];
  auto number = value.get<std::int64_t>();
  std::string text = std::to_string(std::abs(number));
  if (const auto decimals = signal["decimals"].get<std::size_t>(); decimals > 0) {
    while (text.size() <= decimals) text.insert(0, "0");
    text.insert(text.size() - decimals, ".");
    while (text.ends_with("0")) text.pop_back();
    if (text.ends_with(".")) text.pop_back();
  }
  const std::string unit = signal["unit"];
  return (number < 0 ? "-" : "") + text + (unit.empty() ? "" : " " + unit);
}

json value_at(const json& run, const std::string& name, std::int64_t tick) {
  for (const json& signal : run["signals"]) {
    if (signal["name"] != name) continue;
    for (const json& span : signal["spans"]) {
      if (tick >= span["from"] && tick < span["from"].get<std::int64_t>() + span["ticks"].get<std::int64_t>())
        return span["value"];
    }
  }
  return nullptr;
}

void check_flow(const json& report, const json& verdict, const json& result) {
  REQUIRE(result["codeFlows"].size() == 1);
  const json& locations = result["codeFlows"][0]["threadFlows"][0]["locations"];
  REQUIRE(!locations.empty());
  std::int64_t before = -1;
  for (const json& location : locations) {
    const auto tick = location["properties"]["tick"].get<std::int64_t>();
    CHECK(tick > before);
    CHECK(location["properties"]["us"] == tick * report["tick_us"].get<std::int64_t>());
    before = tick;
    for (const auto& [name, said] : location["state"].items()) {  // 3.38.9: values are message strings
      const auto signal =
          std::find_if(report["signals"].begin(), report["signals"].end(),
                       [&, &called = name](const json& one) { return one["name"] == called; });
      REQUIRE(signal != report["signals"].end());
      CHECK(said["text"] == words_of(*signal, value_at(verdict["run"], name, tick)));
    }
  }
  CHECK(before == verdict["run"]["ticks"].get<std::int64_t>() - 1);
  CHECK(locations.back()["importance"] == "essential");
  CHECK(locations.back()["location"]["physicalLocation"] == result["locations"][0]["physicalLocation"]);
}

/// Verdict by verdict against the report for programs.
void check_content(const json& report, const Log& log) {
  const std::map<std::string, std::string> kinds{{"proved", "pass"},
                                                 {"proved_up_to", "pass"},
                                                 {"possible", "pass"},
                                                 {"refuted", "fail"},
                                                 {"undecided", "open"}};
  std::map<std::string, json> by_rule;
  for (const json& result : log.run["results"]) by_rule[result["ruleId"]] = result;
  for (const json& verdict : report["verdicts"]) {
    const json& result = by_rule["claim." + verdict["claim"].get<std::string>()];
    INFO(verdict["claim"]);
    REQUIRE(result.is_object());
    CHECK(result["kind"] == (verdict["vacuous"] == true && verdict["outcome"] == "proved_up_to"
                                 ? "notApplicable"
                                 : kinds.at(verdict["outcome"])));
    CHECK(result["properties"]["outcome"] == verdict["outcome"]);
    const json& region = result["locations"][0]["physicalLocation"]["region"];
    CHECK(region["startLine"] == verdict["place"]["line"]);
    CHECK(region["endLine"] == verdict["place"]["end_line"]);
    CHECK(result.contains("codeFlows") == verdict.contains("run"));
    if (verdict.contains("run")) check_flow(report, verdict, result);
  }
}

}  // namespace

TEST_CASE("shipped designs as SARIF: schema, prose and content", "[export][sarif]") {
  std::vector<std::string> logs;
  for (const char* name : {"boat/pump_jet", "boat/flaw_window_kept_alive", "mistakes/reset_starts",
                           "mistakes/end_stop_by_equals", "functions/two_hand_type_1",
                           "winch/flaw_limit_before_ramp", "horn/horn"}) {
    const std::string file = std::string(DETENT_SOURCE_DIR "/specs/") + name + ".detent";
    for (const std::vector<std::string>& more :
         {std::vector<std::string>{"--jobs", "1"}, {"--within", "30 ticks"}}) {
      INFO(file << " " << more.front());
      const Log log = export_sarif(file, more);
      check_prose(log);
      std::vector<std::string> words{"check", file, "--format", "json"};
      words.insert(words.end(), more.begin(), more.end());
      check_content(json::parse(run_detent(words).output), log);
      logs.push_back(log.text);
    }
  }
  check_schema(logs);
}

TEST_CASE("texts that can't be checked as SARIF", "[export][sarif]") {
  const Folder folder;
  std::vector<std::string> logs;
  const std::string wrong = folder.write("wrong.detent", "tick 20 ms\nbutton a\nsignal b = c\nbutton a\n");
  const Log log = export_sarif(wrong);
  CHECK(log.status == 2);
  check_prose(log);
  const json& invocation = log.run["invocations"][0];
  CHECK(invocation["toolExecutionNotifications"][0]["level"] == "error");
  REQUIRE(log.run["results"].size() >= 2);
  for (const json& result : log.run["results"])
    CHECK(result["ruleId"].get<std::string>().starts_with("text."));
  const json& first = log.run["results"][0];
  CHECK(first["level"] == "error");
  CHECK(first["ruleId"] == "text.unknown_name");
  CHECK(first["locations"][0]["physicalLocation"]["region"] ==
        json{{"startLine", 3}, {"startColumn", 12}, {"endLine", 3}, {"endColumn", 13}});
  logs.push_back(log.text);

  const Log clash = export_sarif(folder.write("clash.detent",
                                              "tick 20 ms\nbutton b\nsignal a = b\nassume one: always b\n"
                                              "assume two: never b\nclaim c: never a\n"));
  CHECK(clash.status == 2);
  check_prose(clash);
  CHECK(clash.run["results"].back()["ruleId"] == "check.contradicting");
  CHECK(clash.run["results"].back()["relatedLocations"].size() == 2);
  logs.push_back(clash.text);

  logs.push_back(export_sarif(folder.path() + "/missing.detent").text);
  logs.push_back(export_sarif(folder.write("bytes.detent", "\xFF\x1b[31m")).text);
  CHECK(logs.back().find('\x1b') == std::string::npos);
  const Log empty = export_sarif(folder.write("no_claims.detent", "tick 20 ms\nbutton b\n"));
  CHECK(empty.run["results"].is_array());
  logs.push_back(empty.text);
  check_schema(logs);
}

TEST_CASE("an undecided claim is open, and warnings are results", "[export][sarif]") {
  const Folder folder;
  const Log log = export_sarif(folder.write("x.detent",
                                            "tick 20 ms\nbutton a\nbutton b\nsignal never_on = a and not a\n"
                                            "signal kept = previous(kept) or (a and b and not b)\n"
                                            "claim far: possible a within 10 s\nclaim c: never never_on\n"),
                               {"--within", "5 ticks"});
  check_prose(log);
  std::size_t warnings = 0;
  for (const json& result : log.run["results"]) warnings += result["level"] == "warning" ? 1 : 0;
  CHECK(warnings > 0);
  check_schema({log.text});
}

TEST_CASE("columns count UTF-16 code units", "[export][sarif]") {
  // The scissors take one unit, the boat (outside the first plane) two; RFC 2781.
  const std::string line = "claim x \"\u2702 \U0001F6A4\": never on_";
  const std::string text = "tick 20 ms\nbutton a\nsignal on_ = a\n" + line + " and nothing_\n";
  const Folder folder;
  const Log log = export_sarif(folder.write("x.detent", text));
  const json region = log.run["results"][0]["locations"][0]["physicalLocation"]["region"];
  REQUIRE(log.run["results"][0]["ruleId"] == "text.unknown_name");
  CHECK(region["startLine"] == 4);
  // By hand: 'claim x "' is 9 units, the scissors 1, a blank, the boat 2, '": never on_ and ' 17: 30 before
  // it.
  CHECK(region["startColumn"] == 31);
  CHECK(region["endColumn"] == 31 + 8);
  CHECK(line_of(text, 4).find("nothing_") == 9 + 3 + 1 + 4 + 17);  // in bytes: else the count above is wrong
}

TEST_CASE("file names become URI references", "[export][sarif]") {
  // RFC 3986: 2.1 percent-encoding, 2.3 unreserved characters, 4.2 no colon in the first segment of a
  // relative reference; SARIF 3.4.3 (an absolute path is a file URI).
  CHECK(cli::uri_of("specs/boat/pump_jet.detent") == "specs/boat/pump_jet.detent");
  CHECK(cli::uri_of("./a/../b c#1?.detent") == "b%20c%231%3F.detent");
  CHECK(cli::uri_of("c:d.detent") == "c%3Ad.detent");
  CHECK(cli::uri_of("/tmp/50%.detent") == "file:///tmp/50%25.detent");
  CHECK(cli::uri_of("\u00E4.detent") == "%C3%A4.detent");
}

TEST_CASE("the schema refuses logs that are damaged", "[export][sarif]") {
  const json good = json::parse(
      run_detent({"export", DETENT_SOURCE_DIR "/specs/mistakes/reset_starts.detent", "--as", "sarif"})
          .output);
  std::vector<DocumentOfSchema> documents{{schema_file, good.dump()}};
  const auto damage = [&](const char* pointer, const json& value) {
    json bad = good;
    bad[json::json_pointer(pointer)] = value;
    documents.push_back({schema_file, bad.dump()});
  };
  damage("/version", "2.0.0");
  damage("/runs/0/surplus", 1);
  damage("/runs/0/results/0/kind", "perhaps");
  damage("/runs/0/results/0/locations/0/physicalLocation/region/startLine", 0);
  damage("/runs/0/results/0/message", "text");
  damage("/runs/0/results/0/codeFlows", json::array({json::object()}));
  damage("/runs/0/invocations/0", json::object());
  const auto said = said_by_jsonschema(documents);
  if (!said) {
    WARN("Python's jsonschema is not installed; it was not asked");
    return;
  }
  CHECK(said->front() == "");
  for (std::size_t index = 1; index < said->size(); ++index) {
    INFO(index);
    CHECK((*said)[index] != "");
  }
}

}  // namespace detent::test
