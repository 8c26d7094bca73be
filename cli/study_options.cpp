#include "cli/study_options.hpp"

#include "cli/settings.hpp"

namespace detent::cli {

std::variant<StudySettings, CommandResult> read_study_settings(const StudyOptions& options) {
  auto read = read_settings(options);
  if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
  const Settings& said = std::get<Settings>(read);
  StudySettings settings{.terminal = said.terminal,
                         .total_timeout = said.total_timeout,
                         .memory_mib = said.memory_mib,
                         .jobs = said.jobs,
                         .json = said.json};
  if (said.timeout) settings.timeout = *said.timeout;
  return settings;
}

}  // namespace detent::cli
