#include "tests/support/npm_modules.hpp"

#include <algorithm>
#include <cctype>
#include <cstdlib>
#include <filesystem>

#include "tests/support/other_solvers.hpp"

namespace detent::test {
namespace {

std::string variable(const std::string& name) {
  const char* value = std::getenv(name.c_str());  // NOLINT(concurrency-mt-unsafe)
  return value == nullptr ? "" : value;
}

std::string in_capitals(std::string word) {
  std::transform(word.begin(), word.end(), word.begin(),
                 [](unsigned char letter) { return static_cast<char>(std::toupper(letter)); });
  return word;
}

}  // namespace

std::string modules_folder(const std::string& kind) {
  const std::string told = variable("DETENT_" + in_capitals(kind) + "_MODULES");
  if (!told.empty()) return told;
  const std::string cache = variable("XDG_CACHE_HOME");
  return (cache.empty() ? variable("HOME") + "/.cache" : cache) + "/detent/" + kind + "/node_modules";
}

std::string missing_of(const std::vector<std::string>& programs, const std::string& folder,
                       const std::vector<std::string>& modules) {
  std::string missing;
  for (const std::string& program : programs) {
    if (!installed(program)) missing += program + " is not installed; ";
  }
  for (const std::string& module : modules) {
    if (!std::filesystem::exists(folder + "/" + module)) missing += folder + " has no " + module + "; ";
  }
  return missing;
}

}  // namespace detent::test
