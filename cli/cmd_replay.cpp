// Step by step: options, design, header of the log, its rows, page.
#include "cli/cmd_replay.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <system_error>

#include "cli/decimal.hpp"
#include "cli/errors_text.hpp"
#include "cli/interrupt.hpp"
#include "cli/json_parts.hpp"
#include "cli/reader.hpp"
#include "cli/replay_report.hpp"
#include "cli/settings.hpp"
#include "cli/time_text.hpp"
#include "cli/value_text.hpp"
#include "dsl/decimals.hpp"

namespace detent::cli {
namespace {

using dsl::Model;

/// The log's bytes; - is standard input.
class LogFile {
 public:
  explicit LogFile(const std::string& path) {
    struct stat status {};
    // Opening a pipe by its name would wait until somebody writes to it.
    if (path != "-" && stat(path.c_str(), &status) == 0 && S_ISFIFO(status.st_mode)) {
      is_pipe_ = true;
      return;
    }
    number_ = path == "-" ? STDIN_FILENO : open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NOCTTY);
    error_ = number_ < 0 ? errno : 0;
  }
  LogFile(const LogFile&) = delete;
  LogFile& operator=(const LogFile&) = delete;
  ~LogFile() {
    if (number_ > STDIN_FILENO) close(number_);
  }

  std::ptrdiff_t read_some(char* to, std::size_t most) {
    while (true) {
      const ssize_t count = read(number_, to, most);
      if (count < 0 && errno == EINTR) continue;
      if (count < 0) error_ = errno;
      return count;
    }
  }

  /// Why it can't be read, "" if it can.
  [[nodiscard]] std::string problem() const {
    if (is_pipe_) return "it is a pipe, not a plain file (to read a pipe, give - and redirect it)";
    return error_ == 0 ? "" : std::generic_category().message(error_);
  }

 private:
  int number_ = -1;
  int error_ = 0;
  bool is_pipe_ = false;
};

CommandResult log_problem(const std::string& log, const CsvProblem& problem) {
  const std::string column = problem.column == 0 ? "" : fmt::format(", column {}", problem.column);
  return usage_error(fmt::format("{}: row {}{}: {}", log, problem.row, column, problem.what), problem.mend);
}

std::optional<CommandResult> read_level_tolerance(const Model& model, std::string_view text,
                                                  ReplayWishes& wishes) {
  constexpr const char* option = "--tolerance-level: ";
  constexpr const char* mend = "write for example --tolerance-level \"2 %\" or --tolerance-level \"jet=2 %\"";
  std::string_view rest = trimmed(text);
  std::optional<std::uint32_t> only;
  if (rest.find('=') != std::string_view::npos) {
    only = take_signal(model, rest, false);
    if (!only || !rest.starts_with('=')) {
      return usage_error(fmt::format("{}'{}' names nothing in the design", option, text.substr(0, 80)), mend);
    }
    rest = trimmed(rest.substr(1));
  }
  const std::size_t end = std::min(rest.find_first_not_of("0123456789."), rest.size());
  const std::optional<Decimal> number = read_decimal(rest.substr(0, end));
  const std::string_view unit = trimmed(rest.substr(end));
  if (!number) return usage_error(fmt::format("{}'{}' is no level", option, text.substr(0, 80)), mend);
  bool any = false;
  for (std::uint32_t index = 0; index < model.signals.size(); ++index) {
    const dsl::Sort& sort = model.signals[index].sort;
    if (sort.kind != dsl::SortKind::level || sort.unit != unit || (only && only != index)) continue;
    const auto fine = scaled(*number, Wide{fine_per_step} * dsl::power_of_ten(sort.decimals));
    if (!fine)
      return usage_error(fmt::format("{}'{}' is beyond every level", option, text.substr(0, 80)), mend);
    wishes.level_tolerance[index] = fine->value;
    any = true;
  }
  if (any) return std::nullopt;
  return usage_error(only ? fmt::format("{}{} is no level with that unit", option, model.signals[*only].name)
                          : fmt::format("{}no level of the design is in '{}'", option, unit.substr(0, 80)),
                     mend);
}

std::variant<ReplayWishes, CommandResult> read_wishes(const ReplayOptions& options, const Model& model) {
  ReplayWishes wishes{.tolerance = model.tick_us * 1'000};
  wishes.level_tolerance.assign(model.signals.size(), 0);
  if (options.tolerance_time) {
    const Reading<std::int64_t> time = read_nanoseconds(*options.tolerance_time, model.tick_us);
    if (!time.value) return bad_option("--tolerance-time", time);
    wishes.tolerance = *time.value;
  }
  for (const std::string& text : options.tolerance_levels) {
    if (auto problem = read_level_tolerance(model, text, wishes)) return std::move(*problem);
  }
  return wishes;
}

CommandResult unusable(const ReplayOptions& options, const Settings& settings,
                       const dsl::Compiled& compiled) {
  if (settings.json) {
    return {.output = json_print(json_head(Status::input_wrong, options.file, compiled)),
            .status = Status::input_wrong};
  }
  const Terminal errors = choose_terminal(settings.terminal, look_around(2));
  return {.errors = render(errors_page(compiled, errors), errors), .status = Status::input_wrong};
}

std::variant<Replay, CommandResult> study(const ReplayOptions& options, const Model& model,
                                          const ReplayWishes& wishes) {
  LogFile file(options.log);
  if (const std::string problem = file.problem(); !problem.empty()) {
    return usage_error(fmt::format("{} can't be read: {}", options.log, problem),
                       "name a file with a log, or - for standard input");
  }
  const Interrupt interrupt;
  CsvReader reader([&](char* to, std::size_t most) { return file.read_some(to, most); });
  if (!reader.next()) {
    if (const std::string problem = file.problem(); !problem.empty()) {
      return usage_error(fmt::format("{} can't be read: {}", options.log, problem), "name a file with a log");
    }
    if (reader.problem()) return log_problem(options.log, *reader.problem());
    return usage_error(fmt::format("{} is empty", options.log),
                       "the first row names the columns (cli/formats.md)");
  }
  std::vector<std::string> headers;
  for (std::size_t index = 0; index < reader.fields(); ++index) headers.emplace_back(reader.field(index));
  auto columns = find_columns(model, headers, options.wishes);
  if (auto* problem = std::get_if<CommandResult>(&columns)) return std::move(*problem);
  auto replayed =
      replay_log(model, reader, std::get<LogColumns>(std::move(columns)), wishes, interrupt.flag());
  if (auto* problem = std::get_if<CsvProblem>(&replayed)) return log_problem(options.log, *problem);
  return std::get<Replay>(std::move(replayed));
}

}  // namespace

CommandResult replay(const ReplayOptions& options) {
  auto read = read_settings(options);
  if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
  const Settings& settings = std::get<Settings>(read);
  if (options.file == "-" && options.log == "-") {
    return usage_error("design and log can't both come from standard input", "name a file for one of them");
  }
  ReplayResult result{.file = options.file,
                      .log_file = options.log == "-" ? standard_input_name : options.log,
                      .compiled = dsl::compile(source_name(options.file), file_reader(options.file))};
  if (!result.compiled.model) return unusable(options, settings, result.compiled);
  auto wishes = read_wishes(options, *result.compiled.model);
  if (auto* problem = std::get_if<CommandResult>(&wishes)) return std::move(*problem);
  result.wishes = std::get<ReplayWishes>(std::move(wishes));
  auto studied = study(options, *result.compiled.model, result.wishes);
  if (auto* problem = std::get_if<CommandResult>(&studied)) return std::move(*problem);
  result.replay = std::get<Replay>(std::move(studied));
  if (settings.json) return {.output = replay_json(result), .status = status_of(result)};
  const Terminal terminal = choose_terminal(settings.terminal, look_around(1));
  return {.output = render(replay_page(result, terminal), terminal), .status = status_of(result)};
}

}  // namespace detent::cli
