#include "cli/cmd_lsp.hpp"

#include <utility>

#include "cli/lsp/stdio_loop.hpp"
#include "cli/reader.hpp"
#include "cli/settings.hpp"

namespace detent::cli {

CommandResult serve_editor(const LspOptions& options) {
  auto read = read_settings(options);
  if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
  const Settings& settings = std::get<Settings>(read);
  const int status = lsp::serve({.limits = {.timeout = settings.timeout.value_or(usual_patience),
                                            .memory_mib = settings.memory_mib,
                                            .jobs = settings.jobs},
                                 .disk = file_reader("")});
  return {.status = static_cast<Status>(status)};
}

}  // namespace detent::cli
