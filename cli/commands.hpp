// The table of commands. Whoever adds a command adds a row, and what stands behind its options.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "cli/result.hpp"

namespace CLI {
class App;
}  // namespace CLI

namespace detent::cli {

struct Command {
  std::string name;
  std::function<void(CLI::App&)> describe;  ///< adds the options, which are read into what `run` looks at
  std::string (*help)() = nullptr;
  std::function<CommandResult()> run;  ///< after the command line has been read
};

/// All of them, each with options of its own, in the order in which people need them.
[[nodiscard]] std::vector<Command> all_commands();

}  // namespace detent::cli
