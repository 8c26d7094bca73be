// What happens when things go wrong around the program: the commands of this folder in their small form. The
// full size of each, and what it found, stand in tests/README.md. Checked: streams, full disks and ends by
// SIGKILL | POSIX.1-2017, write(2), rename(2), exit statuses | from memory
#include <cstdlib>

#include "tests/support/catch.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"

namespace detent::test {
namespace {

/// Runs a command of this folder; its last line is its summary.
void command_finds_nothing(const std::string& name) {
  const std::string script = std::string(DETENT_SOURCE_DIR) + "/tests/robust/" + name;
  const ProcessResult result = run_shell("python3 '" + script + "'", {.limit = std::chrono::seconds(600)});
  INFO(result.output << result.errors);
  CHECK(result.status == 0);
  CHECK(has(result.output, ", 0 wrong"));
}

}  // namespace

TEST_CASE("Hostile inputs are refused with a place and a mend", "[robust]") {
  command_finds_nothing("hostile.py");
}

TEST_CASE("An end by SIGKILL leaves nothing that passes for whole", "[robust]") {
  command_finds_nothing("kill.py");
}

TEST_CASE("A full disk is told, and costs no older file", "[robust]") {
  command_finds_nothing("disk_full.py");
}

TEST_CASE("Closed streams end every command with a sensible status", "[robust]") {
  command_finds_nothing("pipes.py");
}

TEST_CASE("Checks side by side answer as they do alone", "[robust]") {
  command_finds_nothing("at_once.py");
}

TEST_CASE("A large design costs little more for each line", "[robust]") {
  command_finds_nothing("large.py");
}

}  // namespace detent::test
