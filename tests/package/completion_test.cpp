// Completions, asked of the shells themselves: bash by its completion function, zsh at a pseudo-terminal
// (complete.zsh), fish by `complete -C`. What has to be offered is taken from the command line's own library
// (CLI11) and from the program's answers, not from the part that makes the completions.
#include <CLI/CLI.hpp>
#include <filesystem>
#include <set>
#include <sstream>

#include "cli/commands.hpp"
#include "cli/manual/command_line.hpp"
#include "tests/package/tools.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"

namespace detent::test {
namespace {

using Words = std::vector<std::string>;
using Offers = std::set<std::string>;

const char* const design = R"(tick 20 ms
tunable patience = 1 s from 0 s to 2 s
button go
claim never_on: never go
claim may_go: possible go
)";

/// A folder to press Tab in.
class Place {
 public:
  Place() {
    for (const char* name : {"boat.detent", "with blank.detent"}) folder_.write(name, design);
    for (const char* name : {"slip.run", "bench.csv", "notes.txt"}) folder_.write(name, "");
    std::filesystem::create_directory(folder_.path() + "/inner");
  }
  [[nodiscard]] ProcessWishes wishes() const {
    return {.environment = {{"LC_ALL", "C.UTF-8"}, {"HOME", folder_.path()}, {"TERM", "dumb"}},
            .directory = folder_.path()};
  }

 private:
  Folder folder_;
};

/// One offer a line; fish puts a tab and a description behind it, and zsh hides blanks.
Offers offers_in(const ProcessResult& result) {
  INFO(result.errors);
  CHECK(result.errors.empty());
  std::istringstream lines(result.output);
  Offers offers;
  for (std::string line; std::getline(lines, line);) {
    line.erase(std::min(line.find('\t'), line.size()));
    line.erase(std::remove(line.begin(), line.end(), '\\'), line.end());
    if (line.size() > 1 && line.back() == '/') line.pop_back();
    if (!line.empty()) offers.insert(line);
  }
  return offers;
}

std::string joined(const Words& words) {
  std::string line;
  for (const std::string& word : words) line += (line.empty() ? "" : " ") + word;
  return line;
}

/// What is offered for the last of these words.
using Shell = Offers (*)(const Place& place, const Words& words);

Offers by_bash(const Place& place, const Words& words) {
  Words call{tool("bash"),
             "--norc",
             "-c",
             "source \"$1\"; shift; COMP_WORDS=(\"$@\"); COMP_CWORD=$(($# - 1)); _detent; "
             "[ ${#COMPREPLY[@]} -eq 0 ] || printf '%s\\n' \"${COMPREPLY[@]}\"",
             "bash",
             manual_folder() + "/detent.bash"};
  call.insert(call.end(), words.begin(), words.end());
  return offers_in(run_process(call, place.wishes()));
}

Offers by_zsh(const Place& place, const Words& words) {
  return offers_in(run_process(
      {tool("zsh"), "-f", DETENT_SOURCE_DIR "/tests/package/complete.zsh", manual_folder(), joined(words)},
      place.wishes()));
}

Offers by_fish(const Place& place, const Words& words) {
  return offers_in(run_process({tool("fish"), "--no-config", "-c", "source $argv[1]; complete -C $argv[2]",
                                manual_folder() + "/detent.fish", joined(words)},
                               place.wishes()));
}

struct NamedShell {
  const char* name;
  Shell offers;
};

std::vector<NamedShell> shells_here() {
  std::vector<NamedShell> shells;
  for (const NamedShell& shell : {NamedShell{"bash", by_bash}, {"zsh", by_zsh}, {"fish", by_fish}}) {
    if (has_tool(shell.name)) shells.push_back(shell);
  }
  return shells;
}

Offers command_names() {
  Offers names;
  for (const cli::Command& command : cli::all_commands()) names.insert(command.name);
  return names;
}

/// The long names, from CLI11.
Offers option_names(const cli::Command& command) {
  CLI::App app;
  command.describe(app);
  Offers names;
  for (const CLI::Option* option : app.get_options()) {
    for (const std::string& name : option->get_lnames()) names.insert("--" + name);
  }
  return names;
}

}  // namespace

TEST_CASE("the shells read their completions") {
  for (const char* shell : {"bash", "zsh", "fish"}) {
    if (!has_tool(shell)) continue;
    const std::string name = std::string(shell) == "zsh" ? "_detent" : std::string("detent.") + shell;
    const ProcessResult result = run_process({tool(shell), "-n", manual_folder() + '/' + name});
    CHECK(result.status == 0);
    CHECK(result.output + result.errors == "");
  }
}

TEST_CASE("the shells offer every command, and every option of every command") {
  const Place place;
  for (const NamedShell& shell : shells_here()) {
    INFO(shell.name);
    Offers first = shell.offers(place, {"detent", ""});
    for (const char* option : {"--help", "--version"}) first.erase(option);
    CHECK(first == command_names());
    CHECK(shell.offers(place, {"detent", "--vers"}) == Offers{"--version"});
    for (const cli::Command& command : cli::all_commands()) {
      INFO(command.name);
      CHECK(shell.offers(place, {"detent", command.name, "--"}) == option_names(command));
    }
  }
}

TEST_CASE("the shells offer what fits: designs, folders, runs, names out of the design") {
  const Place place;
  const Offers designs{"boat.detent", "inner", "with blank.detent"};
  for (const NamedShell& shell : shells_here()) {
    INFO(shell.name);
    const auto offers = [&](const Words& words) {
      Words all{"detent"};
      all.insert(all.end(), words.begin(), words.end());
      return shell.offers(place, all);
    };
    CHECK(offers({"check", ""}) == designs);
    CHECK(offers({"check", "bo"}) == Offers{"boat.detent"});
    CHECK(offers({"compare", "boat.detent", ""}) == designs);
    CHECK(offers({"check", "boat.detent", "--claim", ""}) == Offers{"never_on", "may_go"});
    CHECK(offers({"check", "--jobs", "2", "boat.detent", "--claim", "never_on", "--claim", "m"}) ==
          Offers{"may_go"});
    CHECK(offers({"check", "boat.detent", "--claim", "never_on", "--format", "j"}) ==
          Offers{"json", "junit"});
    CHECK(offers({"check", "boat.detent", "--evidence", ""}) == Offers{"inner"});
    CHECK(offers({"check", "boat.detent", "--run", "sl"}) == Offers{"slip.run"});
    CHECK(offers({"check", "boat.detent", "--within", ""}).empty());
    CHECK(offers({"tune", "boat.detent", "--only", ""}) == Offers{"patience"});
    CHECK(offers({"tune", "boat.detent", "--together", "patience", ""}) == Offers{"patience"});
    CHECK(offers({"replay", "boat.detent", ""}) == Offers{"bench.csv", "inner"});
    CHECK(offers({"report", "boat.detent", "-o", "no"}) == Offers{"notes.txt"});
    CHECK(offers({"show", "boat.detent", ""}) == Offers{"signals", "tree", "circuit"});
    CHECK(offers({"recheck", "inner", "--solver", "mkdi"}).contains("mkdir"));
    CHECK(offers({"nonsense", ""}).empty());
  }
}

TEST_CASE("bash: an equals sign, colons and blanks are words of their own, or none") {
  const Place place;
  CHECK(by_bash(place, {"detent", "check", "--format", "=", "j"}) == Offers{"json", "junit"});
  CHECK(by_bash(place, {"detent", "check", "--format", "="}) == Offers{"text", "json", "sarif", "junit"});
  CHECK(by_bash(place, {"detent", "replay", "--scale", "a", "=", "1", ":", "2", "boat.detent", ""}) ==
        Offers{"bench.csv", "inner"});
  CHECK(by_bash(place, {"detent", "check", "with\\ blank.detent", "--claim", "m"}) == Offers{"may_go"});
  CHECK(by_bash(place, {"detent", "check", "\"with blank.detent\"", "--claim", "m"}) == Offers{"may_go"});
  CHECK(by_bash(place, {"detent", "check", "with\\ b"}) == Offers{"with blank.detent"});
}

TEST_CASE("what is offered as a choice is taken by the program, and nothing else is") {
  int looked_at = 0;
  const Folder folder;
  const std::string file = folder.write("boat.detent", design);
  for (const cli::manual::CommandLine& command : cli::manual::command_lines()) {
    for (const cli::manual::OptionLine& option : command.options) {
      const bool listed =
          option.value.kind == cli::manual::ValueKind::choice && option.value.name != "FUNCTION";
      if (!listed) continue;
      ++looked_at;
      Words words{command.name};
      for (const cli::manual::Place& place : command.places) {
        if (place.value.kind != cli::manual::ValueKind::choice)
          words.push_back(folder.path() + "/nowhere.detent");
      }
      if (command.name == "why")
        words.insert(words.end(), {"--claim", "may_go"});  // asks for it before all else
      words.push_back(option.names.back() + "=");
      const std::string start = words.back();
      for (const std::string& word : option.value.words) {
        words.back() = start + word;
        INFO(joined(words));
        CHECK_FALSE(has(run_detent(words).errors, "there is no '" + word + "'"));
      }
      words.back() = start + "nonsense";
      for (std::string& word : words) {
        if (word.ends_with("/nowhere.detent")) word = file;
      }
      INFO(joined(words));
      const ProcessResult result = run_detent(words);
      CHECK(result.status == 2);
      CHECK(has(result.errors, "'nonsense'"));
    }
  }
  CHECK(looked_at >= 15);
}

TEST_CASE("safety functions and lessons are offered as the program lists them") {
  const Place place;
  const std::string functions = run_detent({"new"}).output;
  const Offers names = by_bash(place, {"detent", "new", "--from", ""});
  CHECK(names.size() >= 17);
  for (const std::string& name : names) CHECK(has(functions, "\n  " + name + ' '));
  const std::string lessons = run_detent({"lesson"}).output;
  for (const std::string& name : by_bash(place, {"detent", "lesson", ""})) CHECK(has(lessons, name));
}

}  // namespace detent::test
