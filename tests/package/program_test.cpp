// The program that README.md shows, built against the installed libraries as its reader would, and run.
#include <algorithm>
#include <chrono>
#include <sstream>
#include <string>
#include <vector>

#include "tests/package/installed.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/pigeons.hpp"
#include "tests/support/says.hpp"

namespace detent::test {
namespace {

void run(const std::vector<std::string>& words) {
  const ProcessResult result = run_process(words, {.limit = std::chrono::seconds(300)});
  INFO(result.output << result.errors);
  REQUIRE(result.status == 0);
}

/// The path of the program, built once for all tests here.
const std::string& judge() {
  static const Folder folder;
  static const std::string program = [] {
    folder.write("CMakeLists.txt", readme_block("cmake"));
    folder.write("judge.cpp", readme_block("cpp"));
    const std::string build = folder.path() + "/build";
    // No help from this build: what is looked for is found below the folder of the installation, or in the
    // system. Boost must not be asked for.
    run({DETENT_CMAKE, "-G", DETENT_GENERATOR, "-S", folder.path(), "-B", build,
         "-DCMAKE_PREFIX_PATH=" + installed(), "-DCMAKE_CXX_COMPILER=" DETENT_CXX,
         "-DCMAKE_CXX_FLAGS=" DETENT_CXX_FLAGS, "-DCMAKE_DISABLE_FIND_PACKAGE_Boost=ON"});
    run({DETENT_CMAKE, "--build", build});
    return build + "/judge";
  }();
  return program;
}

const std::string specs = DETENT_SOURCE_DIR "/specs/";

}  // namespace

TEST_CASE("the program in README.md builds on the installed libraries, and says what detent says") {
  REQUIRE_FALSE(readme_block("cpp").empty());
  REQUIRE_FALSE(readme_block("cmake").empty());
  const ProcessResult flawed = run_process({judge(), specs + "boat/flaw_window_kept_alive.detent"});
  INFO(flawed.output << flawed.errors);
  CHECK(flawed.status == 1);
  // As the console block of README.md has it.
  CHECK(has(flawed.output, "window_closes: refuted, by a run of 72 ticks\n"));
  CHECK(std::count(flawed.output.begin(), flawed.output.end(), '\n') == 8 + 1);
  CHECK(has(flawed.output, "blade or propeller off"));

  const ProcessResult sound = run_process({judge(), specs + "boat/pump_jet.detent"});
  INFO(sound.output << sound.errors);
  CHECK(sound.status == 0);
  CHECK(has(sound.output, "lock_is_instant: proved\n"));
  CHECK_FALSE(has(sound.output, "refuted"));
  CHECK_FALSE(has(sound.output, "undecided"));

  // Nothing but its own words comes from the program: the progress is one number a line, and falls to 0.
  std::istringstream lines(sound.errors);
  long before = 1'000'000;
  for (std::string line; std::getline(lines, line);) {
    std::istringstream words(line);
    long open = -1;
    std::string rest;
    words >> open;
    std::getline(words, rest);
    CHECK(rest == " questions left");
    CHECK(open < before);
    before = open;
  }
  CHECK(before == 0);

  const ProcessResult absent = run_process({judge(), specs + "no_such.detent"});
  CHECK(absent.status == 2);
  CHECK(absent.output.empty());
  CHECK(has(absent.errors, "can't be opened"));
}

TEST_CASE("Ctrl-C stops the program in README.md, and what is not decided is not called proved") {
  const Folder folder;
  const std::string file = folder.write("hard.detent", pigeons_text(11));
  const ProcessResult result =
      run_process({judge(), file}, {.interrupt_after = std::chrono::milliseconds(3000)});
  INFO(result.output << result.errors);
  CHECK(result.status == 1);  // another claim of it is refuted
  CHECK(has(result.output, "hard: undecided\n"));
  CHECK_FALSE(has(result.output, "proved"));
}

}  // namespace detent::test
