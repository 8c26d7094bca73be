#include "cli/study_page.hpp"

#include <fmt/format.h>

#include <utility>

#include "cli/errors_text.hpp"
#include "cli/page.hpp"
#include "solver/contradiction.hpp"
#include "solver/limits.hpp"

namespace detent::cli {

CommandResult no_study(const dsl::Compiled& compiled, const StudySettings& settings, std::string json) {
  if (settings.json) return {.output = std::move(json), .status = Status::input_wrong};
  const Terminal errors = choose_terminal(settings.terminal, look_around(2));
  return {.errors = render(errors_page(compiled, errors), errors), .status = Status::input_wrong};
}

CommandResult nothing_claimed(const std::string& so) {
  return usage_error("this design claims nothing, so " + so,
                     "add a line such as 'claim NAME \"…\": whenever …: …'");
}

CommandResult contradiction(const dsl::Compiled& compiled, dsl::Value no_run_of,
                            const StudySettings& settings) {
  solver::Report report;
  report.no_run_of = no_run_of;
  const solver::Limits limits(settings.timeout, settings.memory_mib, nullptr);
  report.contradicting = solver::contradicting(*compiled.model, no_run_of, limits, report.statistics);
  return contradiction(compiled, report, settings.terminal);
}

CommandResult contradiction(const dsl::Compiled& compiled, const solver::Report& report,
                            const TerminalWishes& wishes) {
  const CheckResult result{.file = "", .compiled = compiled, .report = report};
  const Terminal errors = choose_terminal(wishes, look_around(2));
  return {.errors = render(contradiction_page(result, errors), errors), .status = Status::input_wrong};
}

std::string allowed_words(const StudySettings& settings) {
  return fmt::format("; up to {} for each claim of each", dsl::time_text(settings.timeout.count(), 1000));
}

}  // namespace detent::cli
