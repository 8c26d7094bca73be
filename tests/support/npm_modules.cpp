#include "tests/support/npm_modules.hpp"

#include <cstdlib>

namespace detent::test {
namespace {

std::string variable(const char* name) {
  const char* value = std::getenv(name);  // NOLINT(concurrency-mt-unsafe)
  return value == nullptr ? "" : value;
}

}  // namespace

std::string npm_modules(const std::string& folder, const char* told) {
  if (const std::string other = variable(told); !other.empty()) return other;
  const std::string cache = variable("XDG_CACHE_HOME");
  return (cache.empty() ? variable("HOME") + "/.cache" : cache) + "/detent/" + folder + "/node_modules";
}

}  // namespace detent::test
