// Text goes one way: no folder may look at one that comes later, and Z3 is seen in solver/*.cpp only.
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "tests/support/catch.hpp"

namespace {

namespace fs = std::filesystem;

struct Rule {
  const char* folder;
  std::vector<std::string> forbidden;
};

std::vector<std::string> offences(const Rule& rule) {
  std::vector<std::string> found;
  std::size_t files = 0;
  for (const auto& entry : fs::recursive_directory_iterator(fs::path(DETENT_SOURCE_DIR) / rule.folder)) {
    const std::string ending = entry.path().extension().string();
    if (ending != ".cpp" && ending != ".hpp") continue;
    ++files;
    std::ifstream file(entry.path());
    for (std::string line; std::getline(file, line);) {
      for (const std::string& word : rule.forbidden) {
        const bool z3_at_home = word == "z3++.h" && std::string(rule.folder) == "solver" && ending == ".cpp";
        if (line.starts_with("#include") && line.find(word) != std::string::npos && !z3_at_home) {
          found.push_back(entry.path().string() + ": " + line);
        }
      }
    }
  }
  REQUIRE(files > 10);
  return found;
}

}  // namespace

TEST_CASE("no layer reaches back, and none below cli prints or reads files") {
  const std::vector<Rule> rules{
      {"dsl",
       // <filesystem> is allowed: an include line's path is put together with it, and read by the caller.
       {"solver/", "cli/", "z3", "<iostream>", "<fstream>", "<cstdio>", "CLI/", "nlohmann"}},
      {"solver",
       {"cli/", "z3++.h", "<iostream>", "<fstream>", "<cstdio>", "<filesystem>", "CLI/", "nlohmann",
        "spirit"}},
      {"cli", {"z3++.h", "spirit"}}};
  for (const Rule& rule : rules) {
    CHECK(offences(rule) == std::vector<std::string>{});
  }
}
