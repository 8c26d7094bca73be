// Every design in specs/ against the verdicts that stand in it. Two designs are checked at a time.
#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <filesystem>
#include <map>
#include <regex>
#include <set>
#include <thread>
#include <vector>

#include "cli/reader.hpp"
#include "tests/specs/examined_spec.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"
#include "tests/support/shipped.hpp"

using namespace detent;
using namespace detent::test;

namespace {

std::vector<ExaminedSpec> examine_all(const std::vector<std::string>& paths) {
  std::vector<ExaminedSpec> specs(paths.size());
  std::atomic<std::size_t> next = 0;
  const auto work = [&] {
    for (std::size_t index = next++; index < paths.size(); index = next++) {
      specs[index] = examine(paths[index], cli::file_reader(paths[index]));
    }
  };
  std::thread other(work);
  work();
  other.join();
  return specs;
}

/// The check takes a while, so that all cases here share one.
const std::vector<ExaminedSpec>& specs() {
  static const std::vector<ExaminedSpec> all = examine_all(shipped_files());
  return all;
}

std::string folder_of(const ExaminedSpec& spec) {
  return std::filesystem::path(spec.path).parent_path().string();
}

bool is_flawed(const ExaminedSpec& spec) {
  return std::filesystem::path(spec.path).filename().string().rfind("flaw_", 0) == 0;
}

bool is_in(const ExaminedSpec& spec, const std::string& folder) {
  return std::filesystem::path(spec.path).parent_path().filename() == folder;
}

std::set<std::string> expected_to_fall(const ExaminedSpec& spec) {
  std::set<std::string> claims;
  for (const Expectation& one : spec.expected.verdicts) {
    if (one.verdict.rfind("refuted", 0) == 0) claims.insert(one.claim);
  }
  return claims;
}

bool expects_refutation(const ExaminedSpec& spec) {
  return !expected_to_fall(spec).empty();
}

/// The claims that a function is said not to fulfil: "// Lacks NAME: why" in its opening comment.
std::set<std::string> said_to_lack(const ExaminedSpec& spec) {
  static const std::regex form("(?:^|\n)// Lacks (\\w+): ");
  std::set<std::string> claims;
  for (std::sregex_iterator at(spec.text.begin(), spec.text.end(), form), end; at != end; ++at)
    claims.insert((*at)[1].str());
  return claims;
}

/// A mistake as README.md lists it.
std::string row_for(const ExaminedSpec& spec) {
  static const std::regex title("\\ndesign \"Mistake: (.*)\"");
  std::smatch found;
  if (!std::regex_search(spec.text, found, title)) return "no title";
  return fmt::format("| `{}` | {} |\n", std::filesystem::path(spec.path).stem().string(), found[1].str());
}

bool has(const ExaminedSpec& spec, const std::string& words) {
  return spec.text.find(words) != std::string::npos;
}

const char* const two_claims = R"(tick 20 ms
button go
button hold
signal run = go and not hold
claim stops "Hold wins.": never run while hold
claim starts "Go alone runs.": possible run
claim idle "Nothing ever runs.": never run
)";

std::vector<std::string> differences_of(const std::string& expectations) {
  const dsl::FileReader read = [&](const std::string&) { return dsl::FileText{two_claims + expectations}; };
  return examine("two_claims.detent", read).problems;
}

}  // namespace

TEST_CASE("Every design has the verdicts that stand in it") {
  REQUIRE(specs().size() >= 50);
  for (const ExaminedSpec& spec : specs()) {
    INFO(spec.path << "\n" << fmt::format("{}", fmt::join(spec.problems, "\n")));
    CHECK(spec.problems.empty());
  }
}

TEST_CASE("Every file of parts is included by a design") {
  std::set<std::string> included;
  for (const ExaminedSpec& spec : specs()) included.insert(spec.includes.begin(), spec.includes.end());
  for (const ExaminedSpec& spec : specs()) {
    INFO(spec.path);
    CHECK((!spec.only_parts || included.count(spec.path) == 1));
  }
}

TEST_CASE(
    "A flawed design says what its flaw is, is refuted, and claims the same as the safe one beside it") {
  std::map<std::string, std::vector<const ExaminedSpec*>> safe;
  for (const ExaminedSpec& spec : specs()) {
    if (!is_flawed(spec)) safe[folder_of(spec)].push_back(&spec);
  }
  for (const ExaminedSpec& spec : specs()) {
    if (!is_flawed(spec)) continue;
    INFO(spec.path);
    CHECK(spec.text.rfind("// FLAW: ", 0) == 0);
    CHECK(expects_refutation(spec));
    REQUIRE(safe[folder_of(spec)].size() == 1);
    CHECK(safe[folder_of(spec)].front()->claims == spec.claims);
    CHECK_FALSE(expects_refutation(*safe[folder_of(spec)].front()));
  }
}

TEST_CASE("Only flaws, mistakes, and functions that say so have a claim that falls") {
  for (const ExaminedSpec& spec : specs()) {
    if (is_flawed(spec) || is_in(spec, "mistakes")) continue;
    INFO(spec.path);
    CHECK(expected_to_fall(spec) == said_to_lack(spec));
  }
}

TEST_CASE("Every safety function names its source, and has a title for the list") {
  std::size_t functions = 0;
  for (const ExaminedSpec& spec : specs()) {
    if (!is_in(spec, "functions") && !is_in(spec, "guards")) continue;
    INFO(spec.path);
    CHECK(has(spec, "\n// Source: "));
    CHECK(has(spec, "\ndesign \""));
    ++functions;
  }
  CHECK(functions >= 16);
}

TEST_CASE("Every mistake says what people think, what happens and how it is mended, and falls by one claim") {
  const std::string readme = shipped_text("../README.md");
  std::size_t mistakes = 0;
  for (const ExaminedSpec& spec : specs()) {
    if (!is_in(spec, "mistakes")) continue;
    INFO(spec.path);
    CHECK(spec.text.rfind("// MISTAKE: ", 0) == 0);
    CHECK(has(spec, "\n// People think: "));
    CHECK(has(spec, "\n// What happens: "));
    CHECK(has(spec, "\n// Mend: "));
    CHECK(expected_to_fall(spec).size() == 1);
    CHECK(readme.find(row_for(spec)) != std::string::npos);
    ++mistakes;
  }
  CHECK(mistakes >= 20);
}

TEST_CASE("A wrong, missing or needless expectation is noticed") {
  const std::string stops = "// expect stops: holds\n";
  const std::string starts = "// expect starts: shown at tick 0\n";
  const std::string idle = "// expect idle: refuted at tick 0\n";
  CHECK(differences_of(stops + starts + idle).empty());
  CHECK(differences_of(stops + starts) ==
        std::vector<std::string>{"'idle' has no expectation; it is: refuted at tick 0"});
  CHECK(differences_of(stops + starts + "// expect idle: refuted at tick 1\n") ==
        std::vector<std::string>{"'idle' is: refuted at tick 0; the file expects: refuted at tick 1"});
  CHECK(differences_of(stops + starts + idle + "// expect other: holds\n").size() == 1);
  CHECK(differences_of(stops + starts + idle + idle).size() == 1);
  CHECK(differences_of(stops + starts + idle + "// expect warning: unused\n").size() == 1);
  CHECK(differences_of(stops + starts + idle + "// check within 30 ms\n").size() == 1);
  CHECK(differences_of(stops + starts + "// expect idle: refuted soon\n").size() == 2);
}

TEST_CASE("A run that settles its claim too early, too late or against the rules is noticed") {
  const dsl::Model model = compiled(two_claims);
  const dsl::Claim idle = claim_named(model, "idle");
  CHECK(run_problem(model, idle, run_of(model, {{"go", "01"}})).empty());
  CHECK(run_problem(model, idle, run_of(model, {{"go", "10"}})) == "has the claim settled in tick 0 of 2");
  CHECK(run_problem(model, idle, run_of(model, {{"go", "00"}})) == "has the claim open in tick 1 of 2");
  CHECK(run_problem(model, idle, run_of(model, {{"go", "02"}})) == "has an input that its hand cannot give");
  CHECK(run_problem(model, idle, {}) == "has no ticks");
  const dsl::Model narrowed = compiled(std::string(two_claims) + "assume calm: never go while hold\n");
  CHECK(run_problem(narrowed, claim_named(narrowed, "idle"),
                    run_of(narrowed, {{"go", "11"}, {"hold", "10"}})) == "breaks 'calm' in tick 0");
}
