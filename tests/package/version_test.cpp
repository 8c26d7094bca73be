// --version: the Z3 that is loaded, and the one that the program was built with where that is another.
#include <regex>

#include "tests/package/tools.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"

namespace detent::test {

TEST_CASE("--version tells the Z3 that is loaded, and that it was built with another one") {
  const std::string usual = run_detent({"--version"}).output;
  const std::regex form(R"(detent (\d+\.\d+\.\d+), on Z3 (\d+\.\d+\.\d+\.\d+)( \(built with Z3 .*\))?\n)");
  std::smatch found;
  REQUIRE(std::regex_match(usual, found, form));
  // What Debian's package says of the library, if this is Debian: "4.8.12-3.1" of 4.8.12.0.
  const ProcessResult package = run_process({tool("dpkg-query"), "-W", "-f=${Version}", "libz3-dev"});
  if (package.status == 0) {
    CHECK(found.str(2).starts_with(package.output.substr(0, package.output.find_first_of("-+~"))));
  }
  const ProcessResult other = run_detent(
      {"--version"},
      {.environment = {{"LD_PRELOAD", DETENT_OTHER_Z3}, {"ASAN_OPTIONS", "verify_asan_link_order=0"}}});
  CHECK(other.output == "detent " + found.str(1) + ", on Z3 99.8.7.6 (built with Z3 " + found.str(2) + ")\n");
  CHECK(other.status == 0);
}

}  // namespace detent::test
