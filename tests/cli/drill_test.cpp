// `detent drill` as a user's shell sees it: the four forms, what they warn of, messages, and the way back by
// `replay`.
#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "tests/cli/sample.hpp"
#include "tests/cli/schema.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/process.hpp"

namespace detent::test {
namespace {

const std::string guard = DETENT_SOURCE_DIR "/specs/guards/one_channel.detent";
const std::string boat = DETENT_SOURCE_DIR "/specs/boat/pump_jet.detent";

bool contains(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

std::string text_of(const std::string& path) {
  std::ifstream file(path);
  return {std::istreambuf_iterator<char>(file), {}};
}

/// Fills in what is expected as what was seen. No field of these tables holds a comma but the last.
std::string filled(const std::string& table) {
  std::istringstream lines(table);
  std::string result, line;
  std::vector<std::string> header;
  while (std::getline(lines, line)) {
    if (!line.empty() && line.back() == '\r') line.pop_back();
    std::vector<std::string> fields;
    std::istringstream cells(line);
    for (std::string cell; std::getline(cells, cell, ',');) fields.push_back(cell);
    if (header.empty()) header = fields;
    for (std::size_t to = 0; to < header.size(); ++to) {
      const auto from = std::find(header.begin(), header.end(), "expected " + header[to]);
      if (from != header.end() && fields != header) {
        fields[to] = fields[static_cast<std::size_t>(from - header.begin())];
      }
    }
    for (std::size_t index = 0; index < fields.size(); ++index)
      result += (index == 0 ? "" : ",") + fields[index];
    result += "\n";
  }
  return result;
}

TEST_CASE("a bench list in Markdown and HTML", "[drill]") {
  const ProcessResult list = run_detent({"drill", guard});
  CHECK(list.status == 0);
  CHECK(list.errors.empty());
  CHECK(list.output.starts_with("# Bench list: Cover of a camera winch, one channel\n\n**Cautions**\n"));
  CHECK(contains(list.output, "Take the blade or propeller off before the first step"));
  CHECK(list.output.ends_with("Local codes and licensed practice decide what is allowed.\n"));
  CHECK(contains(list.output, "Press start."));
  CHECK(contains(list.output, "At once: relay on"));
  CHECK(contains(list.output,
                 "Conditions of 4 decisions shown to matter on their own (unique-cause MC/DC): 6;"));
  CHECK(contains(list.output, "1 change nothing at any output (proved), 0 missed, 0 undecided."));

  const ProcessResult page = run_detent({"drill", guard, "--format", "html", "--masking"});
  CHECK(page.status == 0);
  CHECK(page.output.starts_with("<!DOCTYPE html>\n<html lang=\"en\">"));
  CHECK(contains(page.output, "masking MC/DC"));
  CHECK(page.output.find("class=\"caution\"") < page.output.find("<table>"));
  CHECK(page.output.rfind("class=\"caution\"") > page.output.rfind("</table>"));
  for (const char* outside : {"http:", "https:", "src=", "href="})
    CHECK_FALSE(contains(page.output, outside));

  const ProcessResult elements = run_detent({"drill", guard, "--elements", "--no-changes"});
  CHECK(contains(elements.output, "running on"));
  CHECK_FALSE(contains(elements.output, "Small changes"));
}

TEST_CASE("what a design is called can't break the page", "[drill]") {
  const Folder folder;
  const std::string file = folder.write(
      "odd.detent",
      "design \"<script>|*x*\"\ntick 20 ms\nbutton a\noutput lamp = a\nclaim c: possible lamp\n");
  CHECK_FALSE(contains(run_detent({"drill", file, "--format", "html"}).output, "<script>"));
  CHECK(contains(run_detent({"drill", file}).output, "\\<script\\>\\|\\*x\\*"));
}

TEST_CASE("a table goes out empty and comes back through replay", "[drill]") {
  const Folder folder;
  const std::string design = folder.write("jet.detent", text_of(guard));
  const std::string folder_path = design.substr(0, design.rfind('/'));
  const ProcessResult several = run_detent({"drill", guard, "--format", "csv"});
  CHECK(several.status == 2);
  CHECK(contains(several.errors, "--round N"));
  const ProcessResult written =
      run_detent({"drill", guard, "--format", "csv", "-o", folder_path + "/bench.csv"});
  CHECK(written.status == 0);
  CHECK(contains(written.output, "bench-1.csv"));
  const std::string table = text_of(folder_path + "/bench-1.csv");
  CHECK(table == run_detent({"drill", guard, "--format", "csv", "--round", "1"}).output);
  CHECK(table.starts_with("time s,closed,start,stop,relay,expected relay,step,note\r\n"));
  CHECK(contains(table, "blade or propeller off; power on"));
  // Empty, it says nothing of the relay; filled in, it agrees.
  CHECK(run_detent({"replay", guard, folder_path + "/bench-1.csv"}).status == 0);
  const std::string good = filled(table);
  const ProcessResult agrees = run_detent({"replay", guard, folder.write("good.csv", good)});
  CHECK(agrees.status == 0);
  CHECK(contains(agrees.output, "relay"));
  // One cell the other way round is placed to its row.
  std::string bad = good;
  const std::size_t on = bad.find(",on,on,");
  REQUIRE(on != std::string::npos);
  bad.replace(on, 7, ",off,on,");
  const auto row = 1 + std::count(bad.begin(), bad.begin() + static_cast<std::ptrdiff_t>(on), '\n');
  const ProcessResult parts = run_detent({"replay", guard, folder.write("bad.csv", bad)});
  CHECK(parts.status == 1);
  CHECK(contains(parts.output, "row " + std::to_string(row)));
  // What is there stays.
  const ProcessResult again =
      run_detent({"drill", guard, "--format", "csv", "-o", folder_path + "/bench.csv"});
  CHECK(again.status == 2);
  CHECK(contains(again.errors, "is there already"));
  CHECK(text_of(folder_path + "/bench-1.csv") == table);
}

TEST_CASE("the report for programs obeys its schema", "[drill]") {
  std::ifstream file(DETENT_SOURCE_DIR "/cli/drill.schema.json");
  const auto schema = nlohmann::json::parse(file);
  const Folder folder;
  for (const std::string& design : {boat, folder.write("bad.detent", "tick 20 ms\nbutton\n")}) {
    const ProcessResult result = run_detent({"drill", design, "--format", "json"});
    const auto document = nlohmann::json::parse(result.output);
    for (const std::string& complaint : schema_complaints(schema, document)) FAIL_CHECK(complaint);
    CHECK(document["exit_status"] == result.status);
  }
  const auto complaint = nlohmann::json::parse(R"({"schema_version": 1, "rounds": 3})");
  CHECK_FALSE(schema_complaints(schema, complaint).empty());
}

TEST_CASE("runs that broke a claim become a part of the list", "[drill]") {
  const std::string run = DETENT_SOURCE_DIR "/specs/boat/runs/held_left.run";
  const ProcessResult mended = run_detent({"drill", boat, "--run", run, "--no-changes"});
  CHECK(mended.status == 0);
  CHECK(contains(mended.output, "The run in "));
  const ProcessResult flawed =
      run_detent({"drill", DETENT_SOURCE_DIR "/specs/boat/flaw_window_kept_alive.detent", "--run", run});
  CHECK(flawed.status == 2);
  CHECK(contains(flawed.errors, "breaks the claim window_closes: the design is not mended yet"));
}

TEST_CASE("what only two hands in one tick can do is marked", "[drill]") {
  const Folder folder;
  const std::string file = folder.write("two.detent",
                                        "tick 20 ms\npower_up edges ignored\nbutton a\nbutton b\n"
                                        "output lamp = rises(a) and rises(b)\nclaim c: possible lamp\n");
  const ProcessResult list = run_detent({"drill", file});
  CHECK(list.status == 0);
  CHECK(contains(list.output, "several things in one moment: a person can't do that for sure"));
  CHECK(contains(list.output, "marked as not for a person"));
}

TEST_CASE("what no run does is told as proved", "[drill]") {
  const Folder folder;
  const std::string file =
      folder.write("never.detent",
                   "tick 20 ms\npower_up edges ignored\nbutton a\nlatch lit set a reset not a\n"
                   "output lamp = lit and a\nclaim c: possible lamp\n");
  const ProcessResult list = run_detent({"drill", file});
  CHECK(list.status == 0);
  CHECK(contains(list.output, "## What no run does (proved, for all time)"));
  CHECK(contains(list.output, "that it matters alone: 'a' in 'lit and a' of lamp"));
}

TEST_CASE("mistakes on the command line of drill name the mend", "[drill]") {
  const auto says = [](const std::vector<std::string>& words, const std::string& part) {
    const ProcessResult result = run_detent(words);
    CHECK(result.status == 2);
    CHECK(contains(result.errors, part));
  };
  says({"drill"}, "the file of the design is missing");
  says({"drill", guard, "--format", "pdf"}, "write one of: md, html, csv, json");
  says({"drill", guard, "--round", "1"}, "--round goes with --format csv only");
  says({"drill", guard, "--format", "csv", "--round", "9"}, "is no round of this list");
  says({"drill", guard, "--run", "nowhere.run"}, "nowhere.run");
  says({"drill", guard, "-o", "/nowhere/list.md"}, "can't write");
  const Folder folder;
  says({"drill", folder.write("no.detent",
                              "tick 20 ms\nbutton a\noutput b = a\nassume x: always a\nassume y: never a\n")},
       "assum");
}

TEST_CASE("a list that is stopped says so", "[drill]") {
  const ProcessResult list = run_detent({"drill", boat, "--total-timeout", "1 ms"});
  CHECK(list.status == 3);
  CHECK(contains(list.output, "It was stopped before it was done."));
}

}  // namespace
}  // namespace detent::test
