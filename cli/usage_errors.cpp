#include "cli/usage_errors.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "dsl/diagnostics.hpp"

namespace detent::cli {
namespace {

std::vector<std::string> option_names(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::Option* option : app.get_options()) {
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
  }
  return names;
}

std::vector<std::string> command_names(const CLI::App& line) {
  std::vector<std::string> names;
  for (const CLI::App* command : line.get_subcommands([](const CLI::App*) { return true; })) {
    names.push_back(command->get_name());
  }
  return names;
}

std::string near_mend(const std::string& seen, const std::vector<std::string>& known,
                      const std::string& otherwise) {
  const std::string near = dsl::nearest_name(seen, known);
  return near.empty() ? otherwise : fmt::format("did you mean '{}'?", near);
}

CommandResult unknown_option(const CLI::App& line, const std::string& seen) {
  const std::string command = command_of(line);
  const CLI::App& app = command.empty() ? line : *line.get_subcommand(command);
  const std::string name = seen.substr(0, seen.find('='));
  const std::string help =
      fmt::format("detent {}{}--help lists the options", command, command.empty() ? "" : " ");
  return usage_error(fmt::format("there is no option '{}'", name), near_mend(name, option_names(app), help));
}

/// An option that is one of a command, but was not written behind it.
std::optional<CommandResult> misplaced(const CLI::App& line) {
  const std::vector<std::string> before = line.remaining(false);
  if (before.empty()) return std::nullopt;
  const std::string name = before.front().substr(0, before.front().find('='));
  const std::vector<std::string> of_check = option_names(*line.get_subcommand("check"));
  if (std::find(of_check.begin(), of_check.end(), name) == of_check.end()) return std::nullopt;
  return usage_error(fmt::format("'{}' stands before the command", name),
                     fmt::format("write it behind: detent check FILE {}", name));
}

/// What stands behind an option, by the option's name; for the messages.
std::string example_of(const std::string& option, const std::string& command) {
  if (option == "--output" && command == "merge") return "-o all.txt";
  if (option == "--output") {
    return command == "new" ? "-o my_stop.detent" : command == "export" ? "-o boat.sarif" : "-o report.html";
  }
  static const std::map<std::string, std::string> examples{
      {"--as", "--as sarif"},
      {"--within", "--within \"20 s\""},
      {"--claim", "--claim in_time"},
      {"--timeout", "--timeout 30s"},
      {"--total-timeout", "--total-timeout 5min"},
      {"--goal", "--goal live"},
      {"--lock", "--lock \"guard is safe\""},
      {"--rest", "--rest \"jet == -100 %\""},
      {"--match", "--match thrust=throttle"},
      {"--tolerance", "--tolerance \"5 %\""},
      {"--bounce", "--bounce \"3 ticks\""},
      {"--fault", "--fault \"cover stuck pressed\""},
      {"--memory", "--memory 2GiB"},
      {"--jobs", "--jobs 2"},
      {"--evidence", "--evidence proofs"},
      {"--format", "--format json"},
      {"--width", "--width 100"},
      {"--color", "--color never"},
      {"--only", "--only patience"},
      {"--step", "--step \"100 ms\""},
      {"--together", "--together patience rest"},
      {"--solver", "--solver cvc5"},
      {"--with", "--with my_tow.detent"},
      {"--write", "--write lessons"},
      {"--compare", "--compare old.detent"},
      {"--run", "--run slip.run"},
      {"--time", "--time \"t ms\""},
      {"--column", "--column thrust=ch3"},
      {"--scale", "--scale \"thrust=1000..2000 us:-100..100 %\""},
      {"--words", "--words \"guard=0:safe,1:run\""},
      {"--still", "--still radio=there"},
      {"--tolerance-time", "--tolerance-time \"40 ms\""},
      {"--tolerance-level", "--tolerance-level \"2 %\""},
      {"--from", "--from emergency_stop"},
      {"--round", "--round 1"},
      {"--shard", "--shard 1/8"},
  };
  const auto found = examples.find(option);
  return found == examples.end() ? option : found->second;
}

}  // namespace

std::string command_of(const CLI::App& line) {
  const std::vector<CLI::App*> used = line.get_subcommands();
  return used.empty() ? "" : used.front()->get_name();
}

CommandResult unexpected(const CLI::App& line) {
  if (std::optional<CommandResult> result = misplaced(line)) return std::move(*result);
  const std::string seen = line.remaining(true).front();
  if (seen.size() > 1 && seen.front() == '-') return unknown_option(line, seen);
  const std::string command = command_of(line);
  if (command.empty()) {
    return usage_error(
        fmt::format("there is no command '{}'", seen),
        near_mend(seen, command_names(line), fmt::format("to check a design, write: detent check {}", seen)));
  }
  const std::string mend =
      command == "lesson" ? "name one lesson, for example: detent lesson 3"
      : command == "new"  ? fmt::format("write: detent new --from {}", seen)
      : command == "lsp"  ? "leave it out: the editor sends the texts"
      : command == "show"
          ? "write: detent show FILE signals, tree or circuit"
          : "name one file or folder; a value with a blank needs quotes, as in --within \"20 s\"";
  return usage_error(fmt::format("'{}' is one word too many", seen), mend);
}

CommandResult missing(const CLI::App& line, const CLI::ParseError& error) {
  const std::string command = command_of(line);
  if (command == "compare") {
    return usage_error("compare: two designs are needed",
                       "write: detent compare A B, for example detent compare old.detent new.detent");
  }
  if (command == "merge") {
    return usage_error("merge: the shards are missing",
                       "write: detent merge SHARDS, for example detent merge shards/*.json");
  }
  if (command == "replay") {
    return usage_error("replay: a design and a log are needed",
                       "write: detent replay FILE LOG.csv, for example detent replay boat.detent bench.csv");
  }
  if (command == "why") {
    return usage_error(
        fmt::format("why: {}", error.what()),
        "write: detent why FILE --claim NAME, for example detent why boat.detent --claim in_time");
  }
  if (command == "export") {
    return usage_error(
        fmt::format("export: {}", error.what()),
        "write: detent export FILE --as FORMAT, for example detent export boat.detent --as sarif");
  }
  if (command == "recheck") {
    return usage_error(fmt::format("recheck: {}", error.what()),
                       "write: detent recheck FOLDER --solver COMMAND, for example --solver cvc5");
  }
  return usage_error(
      fmt::format("{}: the file of the design is missing", command),
      fmt::format("write: detent {} FILE, for example detent {} boat.detent", command, command));
}

// `error` begins with the option's name, as CLI11 puts it.
CommandResult misused(const CLI::App& line, const CLI::ParseError& error) {
  const std::string words = error.what();
  const std::string option = words.substr(0, words.find_first_of(": "));
  if (option.starts_with("--") && dynamic_cast<const CLI::ArgumentMismatch*>(&error) != nullptr) {
    const CLI::App* app = command_of(line).empty() ? nullptr : line.get_subcommand(command_of(line));
    const CLI::Option* known = app == nullptr ? nullptr : app->get_option_no_throw(option);
    const std::size_t values = known == nullptr ? 0 : known->count();
    if (values > 1 && known->get_items_expected_max() == 1) {
      return usage_error(fmt::format("'{}' is written {} times", option, values),
                         fmt::format("write it once, for example {}", example_of(option, command_of(line))));
    }
    return usage_error(fmt::format("'{}' has no value behind it", option),
                       fmt::format("write for example {}", example_of(option, command_of(line))));
  }
  if (words.find("disallowed flag override") != std::string::npos) {
    const std::string flag = "--" + words.substr(0, words.find(' '));
    return usage_error(fmt::format("'{}' takes no value", flag), fmt::format("write {} alone", flag));
  }
  const std::string command = command_of(line);
  return usage_error(words, fmt::format("detent {}{}--help shows how each option is written", command,
                                        command.empty() ? "" : " "));
}

}  // namespace detent::cli
