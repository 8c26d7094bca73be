// The report for programs: its form against the schema, its content against the interpreter.
#include <fstream>
#include <functional>
#include <map>
#include <nlohmann/json.hpp>

#include "cli/json.hpp"
#include "tests/cli/golden.hpp"
#include "tests/cli/sample.hpp"
#include "tests/cli/schema.hpp"
#include "tests/support/catch.hpp"

namespace detent::test {
namespace {

using nlohmann::json;

json schema() {
  std::ifstream file(DETENT_SOURCE_DIR "/cli/check.schema.json");
  return json::parse(file);
}

void check_form(const json& document) {
  for (const std::string& complaint : schema_complaints(schema(), document)) FAIL_CHECK(complaint);
}

cli::CheckResult checked() {
  cli::CheckResult result{.file = "boat.detent", .compiled = compiled_text(boat_text())};
  const dsl::Model& model = *result.compiled.model;
  result.bound = cli::choose_bound(model, {}).value;
  result.report.emplace();
  result.report->within = 850;
  result.report->verdicts = {
      {.claim = 0, .outcome = solver::Outcome::holds_up_to, .ticks = 850},
      verdict_by(model, "in_time",
                 run_of(model, 232, {{1, "nudge", 1}, {30, "nudge", 0}, {231, "guard", 1}})),
      {.claim = 2, .outcome = solver::Outcome::undecided, .ticks = 12, .limit = solver::Limit::memory},
      verdict_by(model, "can_go", run_of(model, 3, {{1, "nudge", 1}, {2, "guard", 1}}))};
  result.report->never_change = {3};
  return result;
}

json value_of(const dsl::Signal& signal, dsl::Value value) {
  if (signal.sort.kind == dsl::SortKind::condition) return value != 0;
  if (signal.sort.kind == dsl::SortKind::position)
    return signal.sort.positions[static_cast<std::size_t>(value)];
  return value;
}

/// Unrolls the spans again and compares them with the interpreter, tick by tick.
void check_spans(const json& run, const dsl::Model& model, const solver::Trace& trace) {
  REQUIRE(run["ticks"] == trace.ticks());
  REQUIRE(run["signals"].size() == model.signals.size());
  for (std::size_t i = 0; i < model.signals.size(); ++i) {
    const dsl::Signal& signal = model.signals[i];
    CHECK(run["signals"][i]["name"] == signal.name);
    std::size_t tick = 0;
    for (const json& span : run["signals"][i]["spans"]) {
      REQUIRE(span["from"] == tick);
      for (std::size_t end = tick + span["ticks"].get<std::size_t>(); tick < end; ++tick) {
        REQUIRE(tick < trace.ticks());
        REQUIRE(span["value"] == value_of(signal, trace.at(tick, signal.node)));
      }
    }
    CHECK(tick == trace.ticks());
  }
}

/// Plays the inputs again, from the events alone.
void check_inputs(const json& run, const dsl::Model& model, const solver::Run& expected) {
  std::map<std::string, json> now;
  std::size_t event = 0;
  for (std::size_t tick = 0; tick < expected.ticks(); ++tick) {
    if (event < run["inputs"].size() && run["inputs"][event]["tick"] == tick) {
      for (const auto& [name, value] : run["inputs"][event++]["values"].items()) now[name] = value;
    }
    for (const dsl::Signal& signal : model.signals) {
      if (signal.role != dsl::SignalRole::hand) continue;
      CHECK(now[signal.name] == value_of(signal, expected.inputs[tick][signal.input]));
    }
  }
  CHECK(event == run["inputs"].size());
}

}  // namespace

TEST_CASE("a report obeys its schema and says what the runs do") {
  const cli::CheckResult result = checked();
  const dsl::Model& model = *result.compiled.model;
  const json document = json::parse(cli::json_text(result));
  check_form(document);
  CHECK(document["exit_status"] == 1);
  CHECK(document["title"] == "Jet boat");
  CHECK(document["tick_us"] == 20'000);
  CHECK(document["within"]["ticks"] == 850);
  CHECK(document["within"]["us"] == 17'000'000);
  CHECK(document["never_change"] == json::array({model.signals[3].name}));
  REQUIRE(document["verdicts"].size() == 4);
  CHECK(document["verdicts"][0]["outcome"] == "proved_up_to");
  CHECK(document["verdicts"][0]["place"]["line"] == 15);
  CHECK(document["verdicts"][2]["limit"] == "memory");
  for (const std::size_t i : {std::size_t{1}, std::size_t{3}}) {
    const solver::Run& run = *result.report->verdicts[i].run;
    check_spans(document["verdicts"][i]["run"], model, solver::replay(model.circuit, run));
    check_inputs(document["verdicts"][i]["run"], model, run);
  }
}

TEST_CASE("a text with errors is a report too") {
  cli::CheckResult result{
      .file = "boat.detent",
      .compiled = dsl::compile_text("boat.detent", "tick 20 ms\nsignal a = b\nbutton a\n")};
  const json document = json::parse(cli::json_text(result));
  check_form(document);
  CHECK(document["exit_status"] == 2);
  CHECK(document["diagnostics"].size() >= 2);
  CHECK_FALSE(document.contains("verdicts"));
  const json& first = document["diagnostics"][0];
  CHECK(first["severity"] == "error");
  CHECK(first["place"]["line"] == 2);
  CHECK(first["place"]["end_column"] == 13);
}

TEST_CASE("contradicting assumptions are in the report") {
  cli::CheckResult result = checked();
  result.report->verdicts.clear();
  result.report->no_run_of = 7;
  const json document = json::parse(cli::json_text(result));
  check_form(document);
  CHECK(document["no_run_of"] == 7);
  CHECK(document["exit_status"] == 2);
}

TEST_CASE("a file name that is no UTF-8 does not break the report") {
  cli::CheckResult result = checked();
  result.file = "bo\xFF\x1b[31mat";
  const std::string text = cli::json_text(result);
  CHECK(text.find('\x1b') == std::string::npos);
  CHECK(json::parse(text)["file"] == "bo\uFFFD\x1b[31mat");
}

TEST_CASE("the schema check itself refuses what it should") {
  const json good = json::parse(cli::json_text(checked()));
  const auto refused = [&](const char* pointer, const json& value) {
    json bad = good;
    bad[json::json_pointer(pointer)] = value;
    return !schema_complaints(schema(), bad).empty();
  };
  CHECK(refused("/surplus", 1));
  CHECK(refused("/schema_version", 2));
  CHECK(refused("/tick_us", 0));
  CHECK(refused("/tick_us", 1.5));
  CHECK(refused("/verdicts/0/outcome", "perhaps"));
  CHECK(refused("/verdicts/0/place/line", "3"));
  CHECK(refused("/verdicts/1/run/inputs/0/values/thrust", nullptr));
  CHECK(refused("/statistics", json::object()));
  CHECK_FALSE(refused("/title", "another"));
}

TEST_CASE("every member of the schema is described") {
  const json root = schema();
  const std::function<void(const json&, const std::string&)> walk = [&](const json& part,
                                                                        const std::string& where) {
    if (!part.is_object()) return;
    INFO(where);
    if (part.contains("type") || part.contains("enum")) CHECK(part.contains("description"));
    for (const auto& [name, member] : part.items()) {
      if (name != "enum") walk(member, where + "/" + name);
    }
  };
  walk(root["$defs"], "$defs");
  for (const auto& [name, member] : root["properties"].items()) walk(member, name);
}

}  // namespace detent::test
