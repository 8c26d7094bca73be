// Errors, as the front end words them.
#include "cli/errors_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <sstream>
#include <vector>

#include "cli/words.hpp"

namespace detent::cli {
namespace {

std::size_t count_of(const dsl::Diagnostics& diagnostics, dsl::Severity severity) {
  return static_cast<std::size_t>(
      std::count_if(diagnostics.begin(), diagnostics.end(),
                    [&](const dsl::Diagnostic& diagnostic) { return diagnostic.severity() == severity; }));
}

std::string count_line(const dsl::Diagnostics& diagnostics) {
  const std::size_t warnings = count_of(diagnostics, dsl::Severity::warning);
  std::string line = count_words(count_of(diagnostics, dsl::Severity::error), "error");
  if (warnings > 0) line += " and " + count_words(warnings, "warning");
  return line + "; nothing was checked";
}

}  // namespace

void add_diagnostic(Page& page, const dsl::Diagnostic& diagnostic, const dsl::Sources& sources) {
  if (!page.empty()) page.push_back({});
  std::istringstream lines(dsl::to_text(diagnostic, sources));
  for (std::string line; std::getline(lines, line);) {
    const bool first = page.empty() || page.back().empty();
    page.push_back({{line, first ? Style::strong : Style::plain}});
  }
}

void add_diagnostics(Page& page, const dsl::Diagnostics& diagnostics, const dsl::Sources& sources,
                     const Terminal& terminal) {
  const std::size_t shown = std::min(diagnostics.size(), most_diagnostics_shown);
  std::vector<const dsl::Diagnostic*> order;
  for (const dsl::Diagnostic& diagnostic : diagnostics) order.push_back(&diagnostic);
  if (shown < order.size()) {  // a mistake counts more than a warning
    std::stable_partition(order.begin(), order.end(), [](const dsl::Diagnostic* diagnostic) {
      return diagnostic->severity() == dsl::Severity::error;
    });
  }
  for (std::size_t index = 0; index < shown; ++index) add_diagnostic(page, *order[index], sources);
  if (shown == order.size()) return;
  page.push_back({});
  add_paragraph(
      page, "",
      fmt::format("and {} more: mend these first, or see all with --format json", diagnostics.size() - shown),
      terminal);
}

Page errors_page(const dsl::Compiled& compiled, const Terminal& terminal) {
  Page page;
  add_diagnostics(page, compiled.diagnostics, compiled.sources, terminal);
  page.push_back({});
  add_paragraph(page, "", count_line(compiled.diagnostics), terminal, Style::bad);
  return page;
}

Page contradiction_page(const CheckResult& result, const Terminal& terminal) {
  const dsl::Model& model = *result.compiled.model;
  constexpr std::size_t most = 8;
  std::vector<std::string> names;
  for (const std::uint32_t index : result.report->contradicting) {
    const dsl::Constraint& constraint = model.constraints[index];
    names.push_back(
        fmt::format("'{}' ({})", constraint.name, place_words(result.compiled.sources, constraint.place)));
  }
  Page page;
  add_paragraph(page, "error: ",
                fmt::format("no run of {} obeys everything that is assumed, so no claim means anything",
                            ticks_words(*result.report->no_run_of, model.tick_us)),
                terminal, Style::bad);
  const std::string which = names.empty() ? "what is assumed" : list_words(names, most);
  add_paragraph(page, "  mend: ", fmt::format("one of these must go or ask for less: {}", which), terminal);
  return page;
}

}  // namespace detent::cli
