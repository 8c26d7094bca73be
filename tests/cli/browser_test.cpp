// Report pages in a real browser: stepping, and an accessibility check. The script is browser/report.mjs.
#include <filesystem>
#include <iterator>

#include "tests/support/catch.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/npm_modules.hpp"
#include "tests/support/other_solvers.hpp"
#include "tests/support/process.hpp"

namespace detent::test {
namespace {

const std::string specs = DETENT_SOURCE_DIR "/specs/";

std::string missing_here(const std::string& modules) {
  std::string missing;
  for (const char* program : {"node", "chromium"}) {
    if (!installed(program)) missing += std::string(program) + " is not installed; ";
  }
  for (const char* module : {"playwright-core", "axe-core"}) {
    if (!std::filesystem::exists(modules + "/" + module)) {
      missing += modules + " has no " + std::string(module) + "; ";
    }
  }
  return missing;
}

void write_pages(const Folder& folder, const std::string& name, const std::string& design,
                 std::vector<std::string> more, int status) {
  const std::string page = folder.write(name + ".html", "");
  std::vector<std::string> words{"report", specs + design, "-o", page};
  words.insert(words.end(), more.begin(), more.end());
  const ProcessResult result = run_detent(words);
  INFO(result.errors);
  REQUIRE(result.status == status);
  folder.write(name + ".json", run_detent({"check", specs + design, "--format", "json"}).output);
}

}  // namespace

TEST_CASE("reports can be stepped through and are accessible in a browser", "[page][browser]") {
  const std::string modules = npm_modules("browser", "DETENT_BROWSER_MODULES");
  if (const std::string missing = missing_here(modules); !missing.empty()) {
    WARN(missing << "the pages are not looked at in a browser (.ci/install with-tests)");
    return;
  }
  const Folder folder;
  write_pages(folder, "refuted", "boat/flaw_window_kept_alive.detent",
              {"--compare", specs + "boat/pump_jet.detent", "--tune", "--faults", "--gaps"}, 1);
  write_pages(folder, "proved", "arena/weapon.detent", {}, 0);
  write_pages(folder, "ramp", "winch/flaw_limit_before_ramp.detent", {}, 1);
  ProcessWishes wishes;
  wishes.limit = std::chrono::minutes(5);
  wishes.directory = folder.path();
  wishes.environment = {{"LC_ALL", "C.UTF-8"}, {"HOME", wishes.directory}};
  const ProcessResult result =
      run_process({*installed("node"), DETENT_SOURCE_DIR "/tests/cli/browser/report.mjs", modules,
                   *installed("chromium"), wishes.directory},
                  wishes);
  INFO(result.output << result.errors);
  CHECK(result.status == 0);
  CHECK(result.output.find("all as it should be") != std::string::npos);
}

}  // namespace detent::test
