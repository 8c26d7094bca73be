#include "cli/study_options.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <thread>

#include "cli/quantities.hpp"
#include "dsl/diagnostics.hpp"

namespace detent::cli {
namespace {

CommandResult bad_word(const char* option, const std::string& seen, const std::vector<std::string>& known) {
  const std::string near = dsl::nearest_name(seen, known);
  return usage_error(fmt::format("{}: there is no '{}'", option, seen),
                     near.empty() ? fmt::format("write one of: {}", fmt::join(known, ", "))
                                  : fmt::format("did you mean '{}'?", near));
}

/// Reads an option if it was given. The message, where it can't be read.
template <class T, class Setting>
std::optional<CommandResult> take(const char* option, const std::optional<std::string>& text,
                                  Reading<T> (*read)(const std::string&), Setting& setting) {
  if (!text) return std::nullopt;
  const Reading<T> reading = read(*text);
  if (!reading.value) return usage_error(fmt::format("{}: {}", option, reading.problem), reading.mend);
  setting = *reading.value;
  return std::nullopt;
}

}  // namespace

std::variant<StudySettings, CommandResult> read_study_settings(const StudyOptions& options) {
  StudySettings settings;
  settings.jobs = std::clamp(std::thread::hardware_concurrency(), 1U, most_jobs);
  if (options.format != "text" && options.format != "json") {
    return bad_word("--format", options.format, {"text", "json"});
  }
  settings.json = options.format == "json";
  if (options.color != "auto" && options.color != "always" && options.color != "never") {
    return bad_word("--color", options.color, {"auto", "always", "never"});
  }
  if (options.color != "auto") {
    settings.terminal.color = options.color == "always" ? ColorWish::always : ColorWish::never;
  }
  if (auto problem = take("--timeout", options.timeout, read_time, settings.timeout)) return *problem;
  if (auto problem = take("--memory", options.memory, read_memory, settings.memory_mib)) return *problem;
  if (auto problem = take("--jobs", options.jobs, read_jobs, settings.jobs)) return *problem;
  if (auto problem = take("--width", options.width, read_width, settings.terminal.width)) return *problem;
  return settings;
}

}  // namespace detent::cli
