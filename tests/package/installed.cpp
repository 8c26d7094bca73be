#include "tests/package/installed.hpp"

#include <fstream>
#include <stdexcept>

#include "tests/support/folder.hpp"
#include "tests/support/process.hpp"

namespace detent::test {

const std::string& installed() {
  static const Folder folder;
  static const std::string path = [] {
    const ProcessResult result = run_process({DETENT_CMAKE, "--install", DETENT_BUILD_DIR, "--component",
                                              "development", "--prefix", folder.path()});
    if (result.status != 0) throw std::runtime_error(result.output + result.errors);
    return folder.path();
  }();
  return path;
}

std::string readme_block(const std::string& language) {
  std::ifstream page(DETENT_SOURCE_DIR "/README.md");
  std::string text;
  bool inside = false;
  for (std::string line; std::getline(page, line);) {
    if (inside && line == "```") return text;
    if (inside) text += line + '\n';
    if (line == "```" + language) inside = true;
  }
  return {};
}

}  // namespace detent::test
