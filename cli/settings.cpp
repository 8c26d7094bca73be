#include "cli/settings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <thread>

#include "dsl/diagnostics.hpp"
#include "dsl/model.hpp"

namespace detent::cli {
namespace {

std::optional<CommandResult> read_words(const CommonOptions& options,
                                        const std::vector<std::string>& more_formats, Settings& settings) {
  std::vector<std::string> formats{"text", "json"};
  formats.insert(formats.end(), more_formats.begin(), more_formats.end());
  if (std::find(formats.begin(), formats.end(), options.format) == formats.end()) {
    return bad_word("--format", options.format, formats);
  }
  settings.json = options.format == "json";
  settings.format = options.format;
  if (options.color == "always") {
    settings.terminal.color = ColorWish::always;
  } else if (options.color == "never") {
    settings.terminal.color = ColorWish::never;
  } else if (options.color != "auto") {
    return bad_word("--color", options.color, {"auto", "always", "never"});
  }
  return std::nullopt;
}

std::optional<CommandResult> read_quantities(const CommonOptions& options, Settings& settings) {
  if (options.timeout) {
    const auto timeout = read_time(*options.timeout);
    if (!timeout.value) return bad_option("--timeout", timeout);
    settings.timeout = timeout.value;
  }
  if (options.total_timeout) {
    const auto total = read_time(*options.total_timeout);
    if (!total.value) return bad_option("--total-timeout", total);
    settings.total_timeout = total.value;
  }
  if (options.memory) {
    const auto memory = read_memory(*options.memory);
    if (!memory.value) return bad_option("--memory", memory);
    settings.memory_mib = memory.value;
  }
  if (options.jobs) {
    const auto jobs = read_jobs(*options.jobs);
    if (!jobs.value) return bad_option("--jobs", jobs);
    settings.jobs = *jobs.value;
  }
  if (options.width) {
    const auto width = read_width(*options.width);
    if (!width.value) return bad_option("--width", width);
    settings.terminal.width = width.value;
  }
  return std::nullopt;
}

}  // namespace

CommandResult bad_word(const char* option, const std::string& seen, const std::vector<std::string>& known) {
  const std::string near = dsl::nearest_name(seen, known);
  const std::string mend = near.empty() ? fmt::format("write one of: {}", fmt::join(known, ", "))
                                        : fmt::format("did you mean '{}'?", near);
  return usage_error(fmt::format("{}: there is no '{}'", option, seen), mend);
}

std::variant<Settings, CommandResult> read_settings(const CommonOptions& options,
                                                    const std::vector<std::string>& more_formats) {
  Settings settings{.jobs = std::clamp(std::thread::hardware_concurrency(), 1U, most_jobs)};
  if (auto problem = read_words(options, more_formats, settings)) return std::move(*problem);
  if (auto problem = read_quantities(options, settings)) return std::move(*problem);
  return settings;
}

std::string patience_words(const Settings& settings) {
  return dsl::time_text(settings.timeout.value_or(usual_patience).count(), 1000);
}

}  // namespace detent::cli
