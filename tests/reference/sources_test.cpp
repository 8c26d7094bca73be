// What is checked against which source: the list in README.md, made from the tests themselves.
//
// A test says so in its opening comment, in three fields:
//   // Checked: WHAT | SOURCE | HOW SURE
// A field goes on in the next comment line if the line does not begin anew. This test puts all of them into
// the form of the table and compares it with what stands in the page. To bring the page up to date:
//   DETENT_WRITE_SOURCES=1 build/tests/reference_tests "*what is checked*"
#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <vector>

#include "tests/support/catch.hpp"

namespace {

namespace fs = std::filesystem;

const std::string root = DETENT_SOURCE_DIR;
const std::string begins = "<!-- made from the tests: what is checked -->\n";
const std::string ends = "<!-- end -->\n";

std::string text_of(const std::string& path) {
  std::ostringstream text;
  text << std::ifstream(path, std::ios::binary).rdbuf();
  return text.str();
}

std::vector<std::string> test_files(const std::string& folder) {
  std::vector<std::string> paths;
  for (const auto& entry : fs::directory_iterator(root + "/tests/" + folder)) {
    if (entry.path().string().ends_with("_test.cpp")) paths.push_back(entry.path().string());
  }
  std::sort(paths.begin(), paths.end());
  return paths;
}

/// The tags in a file's opening comment, each joined into one line.
std::vector<std::string> tags_in(const std::string& text) {
  const std::string beginning = "// Checked: ";
  std::vector<std::string> tags;
  bool inside = false;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line) && line.starts_with("//");) {
    if (line.starts_with(beginning)) {
      tags.push_back(line.substr(beginning.size()));
      inside = true;
    } else if (line == "//") {
      inside = false;
    } else if (inside) {
      tags.back() += line.substr(2);
    }
  }
  return tags;
}

std::string table() {
  std::string text = "| what | source | how sure | test |\n| --- | --- | --- | --- |\n";
  for (const char* folder : {"cli", "reference", "solver", "specs"}) {
    for (const std::string& path : test_files(folder)) {
      const std::string name = fs::path(path).filename().string();
      if (name == "sources_test.cpp") continue;
      for (const std::string& tag : tags_in(text_of(path))) {
        INFO(path << ": " << tag);
        CHECK(std::count(tag.begin(), tag.end(), '|') == 2);
        text += "| " + tag + " | `" + folder + "/" + name + "` |\n";
      }
    }
  }
  return text;
}

/// Where the list stands in the page, from behind `begins` up to `ends`.
std::pair<std::size_t, std::size_t> place_in(const std::string& page) {
  const std::size_t begin = page.find(begins);
  REQUIRE(begin != std::string::npos);
  const std::size_t end = page.find(ends, begin);
  REQUIRE(end != std::string::npos);
  return {begin + begins.size(), end - begin - begins.size()};
}

}  // namespace

TEST_CASE("The page's list of what is checked against which source is the tests' own") {
  const std::string path = root + "/README.md";
  std::string page = text_of(path);
  const auto [begin, length] = place_in(page);
  const std::string list = table();
  if (std::getenv("DETENT_WRITE_SOURCES") != nullptr) {  // NOLINT(concurrency-mt-unsafe)
    page.replace(begin, length, list);
    std::ofstream(path, std::ios::binary) << page;
  }
  CHECK(page.substr(place_in(page).first, place_in(page).second) == list);
}

TEST_CASE("Every test against published rules says what it checks, and against what") {
  for (const std::string& path : test_files("reference")) {
    if (path.ends_with("/sources_test.cpp")) continue;
    INFO(path);
    CHECK_FALSE(tags_in(text_of(path)).empty());
  }
}

TEST_CASE("A tag goes on over lines, and ends where the comment does") {
  CHECK(tags_in("// One.\n//\n// Checked: a | b\n// | c\n// Checked: d | e | f\n//\n// More.\n#include\n"
                "// Checked: no\n") == std::vector<std::string>{"a | b | c", "d | e | f"});
}
