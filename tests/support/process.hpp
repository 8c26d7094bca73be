// Runs a program as a user's shell would, and gathers what it says.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace detent::test {

struct ProcessResult {
  int status = -1;  ///< exit status; 128 + signal if one ended it
  std::string output;
  std::string errors;
};

struct ProcessWishes {
  std::string input = {};
  /// The whole environment; PATH is added. Nothing of the surroundings leaks into a test.
  std::vector<std::pair<std::string, std::string>> environment = {{"LC_ALL", "C.UTF-8"}};
  std::optional<std::chrono::milliseconds> interrupt_after = {};  ///< send SIGINT once after this time
  std::optional<std::chrono::milliseconds> interrupt_again = {};  ///< and again, this long after the first
  bool on_terminal = false;    ///< standard output and error are a pseudo-terminal; both land in `output`
  std::string directory = {};  ///< where it runs
  std::chrono::seconds limit{120};  ///< after which it is killed and status is -1
};

/// Throws std::runtime_error only where the program cannot be started.
[[nodiscard]] ProcessResult run_process(const std::vector<std::string>& words,
                                        const ProcessWishes& wishes = {});

/// The program under test with these arguments.
[[nodiscard]] ProcessResult run_detent(const std::vector<std::string>& arguments,
                                       const ProcessWishes& wishes = {});

/// Runs a line of shell, in which $DETENT is the program under test.
[[nodiscard]] ProcessResult run_shell(const std::string& line, ProcessWishes wishes = {});

}  // namespace detent::test
