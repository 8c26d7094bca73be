// The documentation of the public headers is made without a warning of Doxygen, which asks that everything in
// them is documented (.docs/Doxyfile.in).
#include <cstdlib>
#include <filesystem>

#include "tests/support/catch.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/process.hpp"

namespace detent::test {

TEST_CASE("the documentation of the public headers is made without a warning") {
  if (run_shell("command -v doxygen").status != 0) {
    CHECK(std::getenv("CI") == nullptr);  // .ci/install with-tests brings it
    WARN("there is no doxygen here: left out");
    return;
  }
  const Folder folder;
  const ProcessResult result = run_shell(
      "{ cat " DETENT_BUILD_DIR "/docs/Doxyfile; echo OUTPUT_DIRECTORY=" + folder.path() + "; } | doxygen -");
  INFO(result.output << result.errors);
  CHECK(result.status == 0);
  CHECK(result.errors.empty());
  CHECK(std::filesystem::exists(folder.path() + "/html/index.html"));
}

}  // namespace detent::test
