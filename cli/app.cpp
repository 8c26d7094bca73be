// The command line, by CLI11: the table of commands is shown to it, and the row that it finds is run.
#include "cli/app.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <csignal>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "cli/commands.hpp"
#include "cli/guarded.hpp"
#include "cli/help.hpp"
#include "cli/output.hpp"
#include "cli/usage_errors.hpp"

namespace detent::cli {
namespace {

/// The row of the command that was written; null if none was.
const Command* used(const CLI::App& line, const std::vector<Command>& commands) {
  const auto found = std::find_if(commands.begin(), commands.end(),
                                  [&](const Command& command) { return command.name == command_of(line); });
  return found == commands.end() ? nullptr : &*found;
}

/// The answer where there is nothing to run: help, the version, or a mistake.
std::optional<CommandResult> parse(CLI::App& line, const std::vector<Command>& commands, int argc,
                                   const char* const* argv) {
  try {
    line.parse(argc, argv);
  } catch (const CLI::CallForHelp&) {
    const Command* command = used(line, commands);
    if (command == nullptr && !line.remaining(true).empty()) return unexpected(line);
    return CommandResult{.output = command == nullptr ? general_help() : command->help()};
  } catch (const CLI::CallForVersion&) {
    return CommandResult{.output = version_text()};
  } catch (const CLI::ExtrasError&) {
    return unexpected(line);
  } catch (const CLI::RequiredError& error) {
    return missing(line, error);
  } catch (const CLI::ParseError& error) {
    return misused(line, error);
  }
  return std::nullopt;
}

/// `detent help COMMAND` is asked as well as `detent COMMAND --help`.
std::vector<const char*> words_of(int argc, const char* const* argv) {
  std::vector<const char*> words(argv, argv + argc);
  if (words.size() < 2 || words.size() > 3 || std::string_view(words[1]) != "help") return words;
  words.erase(words.begin() + 1);
  words.push_back("--help");
  return words;
}

CommandResult answer(int argc, const char* const* argv) {
  const std::vector<const char*> words = words_of(argc, argv);
  if (words.size() > 3 && std::string_view(words[1]) == "help") {
    return usage_error("help is about one command at a time", "write, for example: detent help check");
  }
  CLI::App line;
  line.set_version_flag("--version", "");
  const std::vector<Command> commands = all_commands();
  for (const Command& command : commands) command.describe(*line.add_subcommand(command.name));
  if (std::optional<CommandResult> early =
          parse(line, commands, static_cast<int>(words.size()), words.data()))
    return std::move(*early);
  const Command* command = used(line, commands);
  if (command == nullptr) return {.errors = general_help(), .status = Status::input_wrong};
  CommandResult result = command->run();
  result.command = command->name;
  return result;
}

}  // namespace

int run(int argc, const char* const* argv) {
  keep_streams_apart();
  // A reader that goes away, and a file that may not grow, are noticed where is written, not by a signal.
  std::signal(SIGPIPE, SIG_IGN);
  std::signal(SIGXFSZ, SIG_IGN);
  return deliver(guarded([&] { return answer(argc, argv); }));
}

}  // namespace detent::cli
