// The command line, by CLI11; its messages are put into this program's manner, with the mend.
#include "cli/app.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <csignal>
#include <map>

#include "cli/cmd_check.hpp"
#include "cli/cmd_compare.hpp"
#include "cli/cmd_drill.hpp"
#include "cli/cmd_faults.hpp"
#include "cli/cmd_gaps.hpp"
#include "cli/cmd_new.hpp"
#include "cli/cmd_recheck.hpp"
#include "cli/cmd_replay.hpp"
#include "cli/cmd_show.hpp"
#include "cli/cmd_step.hpp"
#include "cli/cmd_tune.hpp"
#include "cli/cmd_why.hpp"
#include "cli/guarded.hpp"
#include "cli/help.hpp"
#include "cli/output.hpp"
#include "dsl/diagnostics.hpp"

namespace detent::cli {
namespace {

/// The command line as CLI11 sees it, and where it puts what it reads.
struct CommandLine {
  CLI::App app;
  CLI::App* check = nullptr;
  CLI::App* compare = nullptr;
  CLI::App* show = nullptr;
  CLI::App* why = nullptr;
  CLI::App* recheck = nullptr;
  CLI::App* faults = nullptr;
  CLI::App* gaps = nullptr;
  CLI::App* tune = nullptr;
  CLI::App* step = nullptr;
  CLI::App* replay = nullptr;
  CLI::App* drill = nullptr;
  CLI::App* new_design = nullptr;
  CheckOptions check_options;
  CompareOptions compare_options;
  ShowOptions show_options;
  WhyOptions why_options;
  RecheckOptions recheck_options;
  FaultsOptions faults_options;
  StudyOptions gaps_options;
  TuneOptions tune_options;
  StepOptions step_options;
  ReplayOptions replay_options;
  DrillOptions drill_options;
  NewOptions new_options;
};

void describe_common(CLI::App& command, CommonOptions& options) {
  command.add_option("--timeout", options.timeout);
  command.add_option("--memory", options.memory);
  command.add_option("--jobs", options.jobs);
  command.add_option("--format", options.format);
  command.add_option("--width", options.width);
  command.add_option("--color", options.color);
}

/// Of the commands that ask many questions, one after another.
void describe_many(CLI::App& command, CommonOptions& options) {
  describe_common(command, options);
  command.add_option("--total-timeout", options.total_timeout);
}

void describe_check(CommandLine& line) {
  CheckOptions& options = line.check_options;
  line.check = line.app.add_subcommand("check");
  line.check->add_option("FILE", options.file)->required();
  line.check->add_option("--claim", options.claims)->allow_extra_args(false);
  line.check->add_option("--within", options.within);
  line.check->add_option("--evidence", options.evidence);
  line.check->add_option("--run", options.run);
  describe_common(*line.check, options);
  line.check->add_flag("--all-signals", options.all_signals)->disable_flag_override();
  line.check->add_flag("--statistics", options.statistics)->disable_flag_override();
}

void describe_study(CLI::App& command, StudyOptions& options) {
  command.add_option("FILE", options.file)->required();
  describe_many(command, options);
}

void describe_studies(CommandLine& line) {
  FaultsOptions& options = line.faults_options;
  line.faults = line.app.add_subcommand("faults");
  describe_study(*line.faults, options.study);
  line.faults->add_option("--tolerance", options.tolerance);
  line.faults->add_option("--bounce", options.bounce);
  line.faults->add_option("--fault", options.faults)->allow_extra_args(false);
  line.faults->add_flag("--pairs", options.pairs)->disable_flag_override();
  line.faults->add_flag("--all-runs", options.all_runs)->disable_flag_override();
  line.gaps = line.app.add_subcommand("gaps");
  describe_study(*line.gaps, line.gaps_options);
}

void describe_compare(CommandLine& line) {
  CompareOptions& options = line.compare_options;
  line.compare = line.app.add_subcommand("compare");
  line.compare->add_option("A", options.a)->required();
  line.compare->add_option("B", options.b)->required();
  line.compare->add_option("--match", options.matches)->allow_extra_args(false);
  line.compare->add_option("--goal", options.goal);
  line.compare->add_option("--lock", options.lock);
  line.compare->add_option("--rest", options.rest);
  describe_many(*line.compare, options);
  line.compare->add_flag("--brief", options.brief)->disable_flag_override();
  line.compare->add_flag("--all-signals", options.all_signals)->disable_flag_override();
  line.compare->add_flag("--statistics", options.statistics)->disable_flag_override();
}

void describe_tune(CommandLine& line) {
  TuneOptions& options = line.tune_options;
  line.tune = line.app.add_subcommand("tune");
  line.tune->add_option("FILE", options.file)->required();
  line.tune->add_option("--only", options.only);
  line.tune->add_option("--together", options.together)->expected(2);
  line.tune->add_option("--step", options.step);
  describe_many(*line.tune, options);
  line.tune->add_flag("--all-signals", options.all_signals)->disable_flag_override();
  line.tune->add_flag("--statistics", options.statistics)->disable_flag_override();
}

void describe_step(CommandLine& line) {
  StepOptions& options = line.step_options;
  line.step = line.app.add_subcommand("step");
  line.step->add_option("FILE", options.file)->required();
  line.step->add_option("--claim", options.claim);
  line.step->add_option("--timeout", options.timeout);
  line.step->add_option("--memory", options.memory);
  line.step->add_option("--jobs", options.jobs);
  line.step->add_option("--width", options.width);
  line.step->add_option("--color", options.color);
}

void describe_replay(CommandLine& line) {
  ReplayOptions& options = line.replay_options;
  line.replay = line.app.add_subcommand("replay");
  line.replay->add_option("FILE", options.file)->required();
  line.replay->add_option("LOG", options.log)->required();
  line.replay->add_option("--time", options.wishes.time);
  line.replay->add_option("--column", options.wishes.columns)->allow_extra_args(false);
  line.replay->add_option("--scale", options.wishes.scales)->allow_extra_args(false);
  line.replay->add_option("--words", options.wishes.words)->allow_extra_args(false);
  line.replay->add_option("--still", options.wishes.stills)->allow_extra_args(false);
  line.replay->add_option("--tolerance-time", options.tolerance_time);
  line.replay->add_option("--tolerance-level", options.tolerance_levels)->allow_extra_args(false);
  line.replay->add_option("--format", options.format);
  line.replay->add_option("--width", options.width);
  line.replay->add_option("--color", options.color);
}

void describe_drill(CommandLine& line) {
  DrillOptions& options = line.drill_options;
  line.drill = line.app.add_subcommand("drill");
  line.drill->add_option("FILE", options.file)->required();
  line.drill->add_option("-o,--output", options.output);
  line.drill->add_option("--round", options.round);
  line.drill->add_option("--run", options.runs)->allow_extra_args(false);
  line.drill->add_flag("--masking", options.masking)->disable_flag_override();
  line.drill->add_flag("--elements", options.elements)->disable_flag_override();
  line.drill->add_flag("--no-changes", options.no_changes)->disable_flag_override();
  describe_many(*line.drill, options);
}

void describe_new(CommandLine& line) {
  line.new_design = line.app.add_subcommand("new");
  line.new_design->add_option("--from", line.new_options.from);
  line.new_design->add_option("-o,--output", line.new_options.file);
}

void describe(CommandLine& line) {
  line.app.set_version_flag("--version", "");
  describe_check(line);
  describe_compare(line);
  line.show = line.app.add_subcommand("show");
  line.show->add_option("FILE", line.show_options.file)->required();
  line.show->add_option("WHAT", line.show_options.what);
  line.why = line.app.add_subcommand("why");
  line.why->add_option("FILE", line.why_options.file)->required();
  line.why->add_option("--claim", line.why_options.claim)->required();
  line.why->add_option("--timeout", line.why_options.timeout);
  line.recheck = line.app.add_subcommand("recheck");
  line.recheck->add_option("FOLDER", line.recheck_options.folder)->required();
  line.recheck->add_option("--solver", line.recheck_options.solver)->required();
  line.recheck->add_option("--timeout", line.recheck_options.timeout);
  describe_studies(line);
  describe_tune(line);
  describe_step(line);
  describe_replay(line);
  describe_drill(line);
  describe_new(line);
}

std::string help_for(const CommandLine& line) {
  if (line.check->parsed()) return check_help();
  if (line.compare->parsed()) return compare_help();
  if (line.show->parsed()) return show_help();
  if (line.why->parsed()) return why_help();
  if (line.recheck->parsed()) return recheck_help();
  if (line.faults->parsed()) return faults_help();
  if (line.gaps->parsed()) return gaps_help();
  if (line.tune->parsed()) return tune_help();
  if (line.step->parsed()) return step_help();
  if (line.replay->parsed()) return replay_help();
  if (line.drill->parsed()) return drill_help();
  if (line.new_design->parsed()) return new_help();
  return general_help();
}

std::string command_of(const CommandLine& line) {
  if (line.check->parsed()) return "check";
  if (line.compare->parsed()) return "compare";
  if (line.show->parsed()) return "show";
  if (line.why->parsed()) return "why";
  if (line.recheck->parsed()) return "recheck";
  if (line.faults->parsed()) return "faults";
  if (line.gaps->parsed()) return "gaps";
  if (line.tune->parsed()) return "tune";
  if (line.step->parsed()) return "step";
  if (line.replay->parsed()) return "replay";
  if (line.drill->parsed()) return "drill";
  if (line.new_design->parsed()) return "new";
  return "";
}

// ---- Usage errors ----

std::vector<std::string> option_names(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::Option* option : app.get_options()) {
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
  }
  return names;
}

std::string near_mend(const std::string& seen, const std::vector<std::string>& known,
                      const std::string& otherwise) {
  const std::string near = dsl::nearest_name(seen, known);
  return near.empty() ? otherwise : fmt::format("did you mean '{}'?", near);
}

CommandResult unknown_option(const CommandLine& line, const std::string& seen) {
  const std::string command = command_of(line);
  const CLI::App& app = command.empty() ? line.app : *line.app.get_subcommand(command);
  const std::string name = seen.substr(0, seen.find('='));
  const std::string help =
      fmt::format("detent {}{}--help lists the options", command, command.empty() ? "" : " ");
  return usage_error(fmt::format("there is no option '{}'", name), near_mend(name, option_names(app), help));
}

/// An option that is one of a command, but was not written behind it.
std::optional<CommandResult> misplaced(const CommandLine& line) {
  const std::vector<std::string> before = line.app.remaining(false);
  if (before.empty()) return std::nullopt;
  const std::string name = before.front().substr(0, before.front().find('='));
  const std::vector<std::string> of_check = option_names(*line.check);
  if (std::find(of_check.begin(), of_check.end(), name) == of_check.end()) return std::nullopt;
  return usage_error(fmt::format("'{}' stands before the command", name),
                     fmt::format("write it behind: detent check FILE {}", name));
}

CommandResult unexpected(const CommandLine& line, const std::vector<std::string>& left) {
  if (std::optional<CommandResult> result = misplaced(line)) return std::move(*result);
  const std::string& seen = left.front();
  if (seen.size() > 1 && seen.front() == '-') return unknown_option(line, seen);
  const std::string command = command_of(line);
  if (command.empty()) {
    return usage_error(fmt::format("there is no command '{}'", seen),
                       near_mend(seen,
                                 {"check", "compare", "why", "faults", "gaps", "tune", "step", "replay",
                                  "drill", "new", "recheck", "show"},
                                 fmt::format("to check a design, write: detent check {}", seen)));
  }
  const std::string mend =
      command == "new" ? fmt::format("write: detent new --from {}", seen)
      : command == "show"
          ? "write: detent show FILE signals, tree or circuit"
          : "name one file or folder; a value with a blank needs quotes, as in --within \"20 s\"";
  return usage_error(fmt::format("'{}' is one word too many", seen), mend);
}

CommandResult missing(const CommandLine& line, const CLI::ParseError& error) {
  const std::string command = command_of(line);
  if (command == "compare") {
    return usage_error("compare: two designs are needed",
                       "write: detent compare A B, for example detent compare old.detent new.detent");
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
  if (command == "recheck") {
    return usage_error(fmt::format("recheck: {}", error.what()),
                       "write: detent recheck FOLDER --solver COMMAND, for example --solver cvc5");
  }
  return usage_error(
      fmt::format("{}: the file of the design is missing", command),
      fmt::format("write: detent {} FILE, for example detent {} boat.detent", command, command));
}

/// What stands behind an option, by the option's name; for the messages.
std::string example_of(const std::string& option) {
  static const std::map<std::string, std::string> examples{
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
      {"-o", "-o my_stop.detent"},
  };
  const auto found = examples.find(option);
  return found == examples.end() ? option : found->second;
}

/// `error` begins with the option's name, as CLI11 puts it.
CommandResult misused(const CommandLine& line, const CLI::ParseError& error) {
  const std::string words = error.what();
  const std::string option = words.substr(0, words.find_first_of(": "));
  if (option.starts_with("--") && dynamic_cast<const CLI::ArgumentMismatch*>(&error) != nullptr) {
    const CLI::App* app = command_of(line).empty() ? nullptr : line.app.get_subcommand(command_of(line));
    const CLI::Option* known = app == nullptr ? nullptr : app->get_option_no_throw(option);
    const std::size_t values = known == nullptr ? 0 : known->count();
    if (values > 1 && known->get_items_expected_max() == 1) {
      return usage_error(fmt::format("'{}' is written {} times", option, values),
                         fmt::format("write it once, for example {}", example_of(option)));
    }
    return usage_error(fmt::format("'{}' has no value behind it", option),
                       fmt::format("write for example {}", example_of(option)));
  }
  if (words.find("disallowed flag override") != std::string::npos) {
    const std::string flag = "--" + words.substr(0, words.find(' '));
    return usage_error(fmt::format("'{}' takes no value", flag), fmt::format("write {} alone", flag));
  }
  const std::string command = command_of(line);
  return usage_error(words, fmt::format("detent {}{}--help shows how each option is written", command,
                                        command.empty() ? "" : " "));
}

// ---- Running ----

std::optional<CommandResult> parse(CommandLine& line, int argc, const char* const* argv) {
  try {
    line.app.parse(argc, argv);
  } catch (const CLI::CallForHelp&) {
    return CommandResult{.output = help_for(line)};
  } catch (const CLI::CallForVersion&) {
    return CommandResult{.output = version_text()};
  } catch (const CLI::ExtrasError&) {
    return unexpected(line, line.app.remaining(true));
  } catch (const CLI::RequiredError& error) {
    return missing(line, error);
  } catch (const CLI::ParseError& error) {
    return misused(line, error);
  }
  return std::nullopt;
}

CommandResult dispatch(CommandLine& line) {
  if (line.check->parsed()) return check(line.check_options);
  if (line.compare->parsed()) return compare(line.compare_options);
  if (line.show->parsed()) return show(line.show_options);
  if (line.why->parsed()) return why(line.why_options);
  if (line.recheck->parsed()) return recheck(line.recheck_options);
  if (line.faults->parsed()) return faults(line.faults_options);
  if (line.gaps->parsed()) return gaps(line.gaps_options);
  if (line.tune->parsed()) return tune(line.tune_options);
  if (line.step->parsed()) return step(line.step_options);
  if (line.replay->parsed()) return replay(line.replay_options);
  if (line.drill->parsed()) return drill(line.drill_options);
  if (line.new_design->parsed()) return new_design(line.new_options);
  return {.errors = general_help(), .status = Status::input_wrong};
}

CommandResult answer(int argc, const char* const* argv) {
  CommandLine line;
  describe(line);
  if (std::optional<CommandResult> early = parse(line, argc, argv)) return std::move(*early);
  CommandResult result = dispatch(line);
  result.command = command_of(line);
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
