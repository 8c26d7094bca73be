// detent new as a user meets it: the list, a design of one's own that checks as the function does, and a file
// that is there already.
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/starting_designs.hpp"
#include "dsl/front.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/expectations.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"
#include "tests/support/shipped.hpp"

namespace detent::test {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

/// Where a function comes from, below specs/.
std::string origin_of(const std::string& name) {
  if (name.starts_with("guard_")) return "guards/" + name.substr(6) + ".detent";
  if (name == "two_step_unlock") return "flagship/two_step_unlock.detent";
  return "functions/" + name + ".detent";
}

}  // namespace

TEST_CASE("detent new lists every function with a line, on a page of 80 columns") {
  const ProcessResult result = run_detent({"new"});
  CHECK(result.status == 0);
  CHECK(result.errors.empty());
  const std::vector<cli::StartingDesign> designs = cli::starting_designs();
  CHECK(designs.size() == shipped_files("functions").size() + 3);
  for (const cli::StartingDesign& one : designs) {
    CHECK(has(result.output, "\n  " + std::string(one.name) + " "));
    CHECK_FALSE(one.title.empty());
  }
  std::istringstream lines(result.output + run_detent({"new", "--help"}).output);
  for (std::string line; std::getline(lines, line);) CHECK(line.size() <= 80);
}

TEST_CASE("what detent new writes stands alone, has no warning, and is proved as the function is") {
  const Folder folder;
  const std::string here = folder.path();
  for (const cli::StartingDesign& one : cli::starting_designs()) {
    const std::string name(one.name);
    const std::string file = here + "/" + name + "_of_my_own.detent";
    INFO(name);
    const ProcessResult written = run_detent({"new", "--from", name, "-o", file});
    CHECK(written.status == 0);
    CHECK(has(written.output, file));
    CHECK(has(written.output, "blade or propeller off"));
    const Expectations expected = read_expectations(shipped_text(origin_of(name)));
    REQUIRE_FALSE(expected.verdicts.empty());
    const json report = json::parse(run_detent({"check", file, "--format", "json"}).output);
    CHECK(report["diagnostics"].empty());
    REQUIRE(report["verdicts"].size() == expected.verdicts.size());
    for (std::size_t index = 0; index < expected.verdicts.size(); ++index) {
      const std::string& said = expected.verdicts[index].verdict;
      const std::string outcome = said == "holds"             ? "proved"
                                  : said.starts_with("shown") ? "possible"
                                                              : "refuted";
      CHECK(report["verdicts"][index]["claim"] == expected.verdicts[index].claim);
      CHECK(report["verdicts"][index]["outcome"] == outcome);
    }
  }
}

TEST_CASE("what detent new writes says where it comes from, and leaves out what only tests read") {
  const ProcessResult result = run_detent({"new", "--from", "iec_blocks", "-o", "-"});
  CHECK(result.status == 0);
  CHECK(has(result.output, "// Begun with: detent new --from iec_blocks."));
  CHECK(has(result.output, "Blade or propeller off"));
  CHECK(has(result.output, "// Source: "));
  CHECK(has(result.output, "\npart TON("));
  CHECK_FALSE(has(result.output, "include \""));
  CHECK_FALSE(has(result.output, "// expect "));
}

TEST_CASE("without a file's name detent new takes the function's, and never overwrites") {
  const Folder folder;
  const std::string here = folder.path();
  CHECK(run_detent({"new", "--from", "muting"}, {.directory = here}).status == 0);
  CHECK(fs::exists(here + "/muting.detent"));
  const std::string mine = folder.write("mine.detent", "my own work");
  check_refused({"new", "--from", "muting", "-o", mine}, "is there already, and stays as it is", "-o FILE");
  std::ostringstream text;
  text << std::ifstream(mine).rdbuf();
  CHECK(text.str() == "my own work");
  fs::create_symlink(here + "/nowhere", here + "/link.detent");
  check_refused({"new", "--from", "muting", "-o", here + "/link.detent"}, "is there already", "-o FILE");
  CHECK_FALSE(fs::exists(here + "/nowhere"));
}

TEST_CASE("mistakes of a user of detent new name the mend") {
  check_refused({"new", "--from", "emergncy_stop"}, "no safety function 'emergncy_stop'",
                "did you mean 'emergency_stop'?");
  check_refused({"new", "--from", "flower_bed"}, "no safety function 'flower_bed'", "detent new lists them");
  check_refused({"new", "-o", "mine.detent"}, "-o needs a function", "--from FUNCTION");
  check_refused({"new", "muting"}, "'muting' is one word too many", "detent new --from muting");
  check_refused({"new", "--from"}, "'--from' has no value behind it", "--from emergency_stop");
  check_refused({"new", "--from", "muting", "-o", "/nowhere/at/all.detent"}, "can't write", "-o FILE");
  check_refused({"new", "--from", "muting", "-o", ""}, "can't write", "-o FILE");
}

}  // namespace detent::test
