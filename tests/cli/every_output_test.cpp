// The JSON of every command against the schema beside it in cli/, by Python's jsonschema and by
// tests/cli/schema.cpp; and that the schemas refuse what is damaged: each document with a member too many,
// too few, or of another type, anywhere.
//
// Checked: the JSON of every command against its schema, by another program | JSON Schema, draft 2020-12 | as
// that program has it
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "tests/cli/schema.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/outside.hpp"
#include "tests/support/process.hpp"
#include "tests/support/shipped.hpp"

namespace detent::test {
namespace {

using nlohmann::json;

std::string schema_path(const std::string& name) {
  return std::string(DETENT_SOURCE_DIR "/cli/") + name + ".schema.json";
}

std::string text_of(const std::string& path) {
  std::ostringstream text;
  text << std::ifstream(path, std::ios::binary).rdbuf();
  return text.str();
}

struct Output {
  std::string what;    ///< the command line
  std::string schema;  ///< its name
  std::string text;
};

void check_all(const std::vector<Output>& outputs) {
  std::vector<DocumentOfSchema> documents;
  for (const Output& output : outputs) {
    INFO(output.what);
    const json schema = json::parse(text_of(schema_path(output.schema)));
    for (const std::string& complaint : schema_complaints(schema, json::parse(output.text)))
      FAIL_CHECK(complaint);
    documents.push_back({schema_path(output.schema), output.text});
  }
  const auto said = said_by_jsonschema(documents);
  if (!said) {
    WARN("Python's jsonschema is not installed; it was not asked");
    return;
  }
  for (std::size_t index = 0; index < said->size(); ++index) {
    INFO(outputs[index].what);
    CHECK((*said)[index] == "");
  }
}

/// Runs a command for programs; `words` are parted by blanks.
Output output_of(const std::string& schema, const std::string& words, const std::string& input = "") {
  std::istringstream parts(words);
  std::vector<std::string> arguments;
  for (std::string part; parts >> part;) arguments.push_back(part == "5_ticks" ? "5 ticks" : part);
  ProcessWishes wishes;
  wishes.directory = DETENT_SOURCE_DIR;
  wishes.input = input;
  const ProcessResult result = run_detent(arguments, wishes);
  INFO(words << "\n" << result.errors);
  CHECK(result.status != 4);
  REQUIRE(json::accept(result.output));
  const json document = json::parse(result.output);
  if (document.contains("exit_status")) CHECK(document["exit_status"] == result.status);
  return {words, schema, result.output};
}

struct Row {
  const char* schema;
  const char* words;
};

/// Every command that writes JSON, in its different ways. One that is added belongs in here.
const std::vector<Row>& rows() {
  static const std::vector<Row> all{
      {"check", "check specs/boat/flaw_window_kept_alive.detent --format json"},
      {"check", "check specs/functions/two_hand_type_1.detent --format json"},
      {"check", "check specs/boat/pump_jet.detent --within auto --format json"},
      {"checks", "check specs/boat/pump_jet.detent specs/guards/one_channel.detent --format json"},
      {"shard", "check specs/boat/pump_jet.detent --shard 1/2"},
      {"shard", "faults specs/guards/one_channel.detent --pairs --shard 2/3"},
      {"shard", "tune specs/boat/pump_jet.detent --shard 1/1"},
      {"check", "export specs/boat/pump_jet.detent --as json"},
      {"check", "check specs/not_there.detent --format json"},
      {"run", "check specs/boat/pump_jet.detent --run specs/boat/runs/held_left.run --format json"},
      {"run", "export specs/boat/pump_jet.detent --run specs/boat/runs/held_left.run --as json"},
      {"compare",
       "compare specs/flagship/two_step_unlock.detent specs/flagship/flaw_locks_a_tick_late.detent "
       "--format json"},
      {"compare", "compare specs/boat/pump_jet.detent specs/not_there.detent --format json"},
      {"faults", "faults specs/guards/one_channel.detent --format json"},
      {"faults", "faults specs/not_there.detent --format json"},
      {"gaps", "gaps specs/guards/one_channel.detent --format json"},
      {"gaps", "gaps specs/not_there.detent --format json"},
      {"why", "why specs/boat/pump_jet.detent --claim two_steps --format json"},
      {"why", "why specs/mistakes/reset_starts.detent --claim start_is_meant --format json"},
      {"why", "why specs/not_there.detent --claim c --format json"},
      {"show", "show specs/boat/pump_jet.detent --format json"},
      {"show", "show specs/not_there.detent --format json"},
      {"tune", "tune specs/boat/pump_jet.detent --format json"},
      {"tune", "tune specs/not_there.detent --format json"},
      {"replay", "replay specs/not_there.detent - --format json"},
      {"drill", "drill specs/guards/one_channel.detent --format json"},
      {"drill", "drill specs/not_there.detent --format json"},
  };
  return all;
}

/// Objects whose members the schema names by a pattern, not one by one.
bool is_dictionary(const std::string& where) {
  return where.ends_with("/values") || where.ends_with("/moves") || where.ends_with("/sha256");
}

/// Documents that are like this one but for one thing each.
void damage(const json& part, const json::json_pointer& at, const json& whole, std::vector<json>& damaged) {
  const auto with = [&](const json& value) {
    json bad = whole;
    bad[at] = value;
    damaged.push_back(std::move(bad));
  };
  if (part.is_object()) {
    if (is_dictionary(at.to_string())) return;
    json more = part;
    more["surplus"] = 1;
    with(more);
    for (const auto& [name, member] : part.items()) damage(member, at / name, whole, damaged);
  } else if (part.is_array()) {
    with("text");
    if (!part.empty()) damage(part.front(), at / 0, whole, damaged);
  } else if (part.is_number()) {
    with(json::array());
  }
}

}  // namespace

TEST_CASE("the JSON of every command obeys its schema", "[export][schemas]") {
  std::vector<Output> outputs;
  for (const Row& row : rows()) outputs.push_back(output_of(row.schema, row.words));
  outputs.push_back(output_of("replay", "replay specs/boat/pump_jet.detent - --format json",
                              "time s,thrust %,rudder %,guard,radio,jet %\n0,-100,0,safe,there,-100\n"
                              "0.5,-100,-100,safe,there,-100\n0.8,-100,-100,run,there,-100\n"
                              "1.2,35,0,run,there,20\n"));
  check_all(outputs);
}

TEST_CASE("every shipped design, as far as five ticks", "[export][schemas]") {
  std::vector<Output> outputs;
  for (const std::string& file : shipped_files()) {
    outputs.push_back(output_of("check", "check " + file + " --within 5_ticks --format json"));
  }
  CHECK(outputs.size() > 40);
  check_all(outputs);
}

TEST_CASE("a folder of evidence obeys its schemas", "[export][schemas]") {
  const Folder folder;
  std::vector<Output> outputs;
  for (const char* design : {"boat/pump_jet", "boat/flaw_window_kept_alive"}) {
    const std::string ev = folder.path() + "/ev";
    const std::string file = std::string(DETENT_SOURCE_DIR "/specs/") + design + ".detent";
    CHECK(run_detent({"check", file, "--evidence", ev}).status < 2);
    for (const auto& entry : std::filesystem::directory_iterator(ev)) {
      const std::string name = entry.path().filename().string();
      if (name == "index.json") outputs.push_back({name, "evidence", text_of(entry.path().string())});
      if (name.ends_with(".run.json")) outputs.push_back({name, "run_file", text_of(entry.path().string())});
    }
  }
  CHECK(outputs.size() >= 4);
  check_all(outputs);
}

TEST_CASE("schemas refuse documents that are damaged anywhere", "[export][schemas]") {
  std::vector<std::string> seen;
  std::vector<DocumentOfSchema> some;
  for (const Row& row : rows()) {
    if (std::find(seen.begin(), seen.end(), row.schema) != seen.end()) continue;
    if (std::string(row.words).find("not_there") != std::string::npos) continue;
    seen.emplace_back(row.schema);
    const json schema = json::parse(text_of(schema_path(row.schema)));
    const json good = json::parse(output_of(row.schema, row.words).text);
    std::vector<json> damaged;
    damage(good, json::json_pointer(), good, damaged);
    for (const json& name : schema["required"]) {
      json less = good;
      less.erase(name.get<std::string>());
      damaged.push_back(std::move(less));
    }
    CHECK(damaged.size() >= 15);
    for (const json& bad : damaged) {
      if (!schema_complaints(schema, bad).empty()) continue;
      FAIL_CHECK(row.schema << ": accepts " << json::diff(good, bad).dump().substr(0, 300));
    }
    for (std::size_t index = 0; index < damaged.size(); index += 7) {
      some.push_back({schema_path(row.schema), damaged[index].dump()});
    }
  }
  const auto said = said_by_jsonschema(some);
  if (!said) {
    WARN("Python's jsonschema is not installed; it was not asked");
    return;
  }
  for (std::size_t index = 0; index < said->size(); ++index) {
    INFO(some[index].schema);
    CHECK((*said)[index] != "");
  }
}

TEST_CASE("every schema is listed here, installed, and says what its members mean", "[export][schemas]") {
  const std::string install = text_of(DETENT_SOURCE_DIR "/cli/CMakeLists.txt");
  CHECK(install.find("file(GLOB schemas CONFIGURE_DEPENDS *.schema.json)\ninstall(FILES ${schemas}") !=
        std::string::npos);
  std::vector<std::string> tested{"evidence", "run_file"};
  for (const Row& row : rows()) tested.emplace_back(row.schema);
  for (const auto& entry : std::filesystem::directory_iterator(DETENT_SOURCE_DIR "/cli")) {
    const std::string name = entry.path().filename().string();
    const std::size_t end = name.find(".schema.json");
    if (end == std::string::npos) continue;
    INFO(name);
    CHECK(std::find(tested.begin(), tested.end(), name.substr(0, end)) != tested.end());
    CHECK(json::parse(text_of(entry.path().string()))["$schema"] ==
          "https://json-schema.org/draft/2020-12/schema");
  }
}

}  // namespace detent::test
