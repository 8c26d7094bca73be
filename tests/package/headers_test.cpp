// The installed headers: all that they include is there, and they compile by themselves without a warning.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <regex>
#include <string>
#include <vector>

#include "tests/package/installed.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/says.hpp"

namespace detent::test {
namespace {

/// Paths below the folder of the headers, sorted.
std::vector<std::string> headers() {
  const std::filesystem::path root = installed() + "/include/detent";
  std::vector<std::string> found;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(root)) {
    if (entry.is_regular_file()) found.push_back(entry.path().lexically_relative(root).generic_string());
  }
  std::sort(found.begin(), found.end());
  return found;
}

}  // namespace

TEST_CASE("installed headers include each other and the standard library, and nothing else") {
  const std::vector<std::string> all = headers();
  REQUIRE(all.size() > 20);
  const std::regex ours("\\s*#include \"([^\"]+)\"");
  const std::regex standard("\\s*#include <[a-z_]+>");
  for (const std::string& header : all) {
    std::ifstream file(installed() + "/include/detent/" + header);
    for (std::string line; std::getline(file, line);) {
      if (line.find("#include") == line.npos) continue;
      INFO(header << ": " << line);
      std::smatch match;
      if (std::regex_search(line, match, ours)) {
        CHECK(std::binary_search(all.begin(), all.end(), match[1].str()));
      } else {
        CHECK(std::regex_match(line, standard));
      }
    }
  }
}

TEST_CASE("installed headers compile without a warning") {
  const Folder folder;
  std::string text;
  for (const std::string& header : headers()) {
    if (header.ends_with(".hpp")) text += "#include \"" + header + "\"\n";
  }
  const std::string file = folder.write("all.cpp", text);
  const ProcessResult result =
      run_process({DETENT_CXX, "-std=c++20", "-fsyntax-only", "-Wall", "-Wextra", "-Wconversion", "-Wshadow",
                   "-Werror", "-I" + installed() + "/include/detent", file});
  INFO(result.errors);
  CHECK(result.status == 0);
}

}  // namespace detent::test
