// Comparing with a file.
#include "tests/cli/golden.hpp"

#include <cstdlib>
#include <fstream>
#include <sstream>

#include "tests/support/catch.hpp"

namespace detent::test {

void check_golden(const std::string& name, const std::string& text) {
  const std::string path = std::string(DETENT_SOURCE_DIR "/tests/cli/golden/") + name + ".txt";
  const char* update = std::getenv("DETENT_UPDATE_GOLDEN");
  if (update != nullptr && *update == '1') {
    std::ofstream(path, std::ios::binary) << text;
    return;
  }
  std::ifstream file(path, std::ios::binary);
  std::stringstream expected;
  expected << file.rdbuf();
  INFO(path);
  REQUIRE(file.good());
  CHECK(text == expected.str());
}

}  // namespace detent::test
