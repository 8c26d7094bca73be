#include "tests/package/tools.hpp"

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <stdexcept>

#include "tests/support/catch.hpp"
#include "tests/support/other_solvers.hpp"

namespace detent::test {

bool has_tool(const std::string& program) {
  if (installed(program)) return true;
  WARN(program << " is not installed: what it would look at is left out");
  CHECK(std::getenv("CI") == nullptr);  // NOLINT(concurrency-mt-unsafe)
  return false;
}

std::string tool(const std::string& program) {
  return installed(program).value_or("/nowhere/" + program);
}

std::string manual_folder() {
  return DETENT_BUILD_DIR "/manual";
}

std::string text_of(const std::string& file) {
  std::ifstream stream(file, std::ios::binary);
  if (!stream) throw std::runtime_error(file + " can't be read");
  return {std::istreambuf_iterator<char>(stream), {}};
}

}  // namespace detent::test
