// The recipe of README.md, run as it stands there: by GNU parallel, and by Slurm on a cluster of one node,
// which one_node.sh starts. What is not installed, or does not start, is left out with a word.
#include <sys/stat.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "tests/shards/sweep.hpp"
#include "tests/support/catch.hpp"

namespace detent::test {
namespace {

constexpr int left_out = 77;

/// The blocks of README.md's section on shards that are marked so, in order.
std::vector<std::string> blocks(const std::string& mark) {
  std::ifstream page(DETENT_SOURCE_DIR "/README.md");
  std::vector<std::string> found;
  bool section = false, inside = false;
  for (std::string line; std::getline(page, line);) {
    if (line.starts_with("## ")) section = line == "## When one machine is not enough";
    if (!section) continue;
    if (line == "```") inside = false;
    if (inside) found.back() += line + "\n";
    if (line == "```" + mark) {
      found.emplace_back();
      inside = true;
    }
  }
  return found;
}

/// A folder in which `detent` and `specs/` are found as the page has them.
struct Place {
  Folder folder;
  ProcessWishes wishes;

  Place() {
    std::filesystem::create_directory_symlink(DETENT_SOURCE_DIR "/specs", folder.path() + "/specs");
    std::filesystem::create_directory(folder.path() + "/bin");
    std::filesystem::create_symlink(DETENT_PROGRAM, folder.path() + "/bin/detent");
    wishes.directory = folder.path();
    wishes.limit = std::chrono::seconds(600);
    wishes.environment = {{"LC_ALL", "C.UTF-8"}, {"COLUMNS", "80"}, {"HOME", folder.path()}};
  }
  ProcessResult run(const std::string& line) const {
    return run_shell("PATH=\"$PWD/bin:$PATH\"; export PATH\n" + line, wishes);
  }
};

const char* const one_run = "detent faults specs/guards/one_channel.detent --pairs";

bool is_there(const Place& place, const std::string& program) {
  return place.run("command -v " + program + " >/dev/null").status == 0;
}

}  // namespace

TEST_CASE("the recipe with GNU parallel gives the answer of one run", "[shards][recipe]") {
  const Place place;
  if (!is_there(place, "parallel")) {
    WARN("GNU parallel is not installed: its recipe is left out");
    CHECK(std::getenv("CI") == nullptr);  // there it is installed  NOLINT(concurrency-mt-unsafe)
    return;
  }
  const std::vector<std::string> recipes = blocks("sh");
  REQUIRE(recipes.size() == 2);
  const ProcessResult joined = place.run(recipes[0]);
  const ProcessResult one = place.run(one_run);
  INFO(joined.errors);
  CHECK(joined.output == one.output);
  CHECK(joined.status == one.status);
  CHECK(one.status == 1);
}

TEST_CASE("the recipe with a job array of Slurm gives the answer of one run", "[shards][recipe]") {
  const Place place;
  const std::vector<std::string> recipes = blocks("sh");
  const std::vector<std::string> scripts = blocks("slurm");
  REQUIRE(recipes.size() == 2);
  REQUIRE(scripts.size() == 1);
  place.folder.write("shards.sh", scripts[0]);
  place.folder.write("recipe.sh", recipes[1]);
  const Folder cluster;
  const ProcessResult joined =
      place.run("bash " DETENT_SOURCE_DIR "/tests/shards/one_node.sh " + cluster.path() + " sh recipe.sh");
  if (joined.status == left_out) {
    WARN(joined.errors << "its recipe is left out");
    return;
  }
  const ProcessResult one = place.run(one_run);
  INFO(joined.output << joined.errors);
  CHECK(joined.output.ends_with(one.output));  // behind what sbatch says
  CHECK(joined.status == one.status);
}

}  // namespace detent::test
