// The comparison, step by step: options, texts, what is to be asked, engine, page. Each step can end it with
// a message.
#include "cli/cmd_compare.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <variant>

#include "cli/compare_json.hpp"
#include "cli/compare_plan.hpp"
#include "cli/compare_result.hpp"
#include "cli/compare_text.hpp"
#include "cli/errors_text.hpp"
#include "cli/progress.hpp"
#include "cli/reader.hpp"
#include "cli/settings.hpp"
#include "cli/stop.hpp"
#include "cli/terminal.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

dsl::Compiled read(const std::string& file) {
  return dsl::compile(source_name(file), file_reader(file));
}

CommandResult text_errors(const CompareResult& result, const Settings& settings) {
  if (settings.json) return {.output = compare_json_text(result), .status = Status::input_wrong};
  const Terminal terminal = choose_terminal(settings.terminal, look_around(2));
  Page page;
  for (const dsl::Compiled& compiled : result.compiled) {
    if (compiled.model) continue;
    if (!page.empty()) page.push_back({});
    add_page(page, errors_page(compiled, terminal));
  }
  return {.errors = render(page, terminal), .status = Status::input_wrong};
}

CommandResult answer(const CompareOptions& options, const CompareResult& result, const Settings& settings) {
  if (settings.json) return {.output = compare_json_text(result), .status = status_of(result)};
  if (auto nothing = nothing_to_compare(result)) return std::move(*nothing);
  const Terminal terminal = choose_terminal(settings.terminal, look_around(1));
  const CompareWishes wishes{
      .brief = options.brief, .all_signals = options.all_signals, .statistics = options.statistics};
  return {.output = render(compare_page(result, wishes, terminal), terminal), .status = status_of(result)};
}

}  // namespace

std::optional<CommandResult> nothing_to_compare(const CompareResult& result) {
  const auto& found = result.comparison->contradiction;
  if (!found) return std::nullopt;
  const std::string whose = !found->side                  ? "the two designs together assume"
                            : *found->side == dsl::side_a ? "A assumes"
                                                          : "B assumes";
  return usage_error(fmt::format("no run of {} obeys all that {}, so there is nothing to compare",
                                 ticks_words(found->ticks, result.both->model.tick_us), whose),
                     found->names.empty() ? "one of the assumptions must go or ask for less"
                                          : fmt::format("one of these must go or ask for less: '{}'",
                                                        fmt::join(found->names, "', '")));
}

std::variant<CompareResult, CommandResult> compared(const CompareOptions& options,
                                                    std::array<dsl::Compiled, 2> designs,
                                                    const Settings& settings) {
  CompareResult result{.files = {options.a, options.b}, .compiled = std::move(designs)};
  if (auto problem = plan_comparison(options, result)) return std::move(*problem);
  result.allowed = patience_words(settings);
  const Stop stop(settings);
  ProgressLine line;
  result.comparison =
      solver::compare(result.model(dsl::side_a), result.model(dsl::side_b), *result.both, result.questions,
                      {.timeout = settings.timeout.value_or(usual_patience),
                       .memory_mib = settings.memory_mib,
                       .cancel = stop.flag(),
                       .progress = [&line](std::size_t open) { line.show(open); },
                       .jobs = settings.jobs});
  return result;
}

CommandResult compare(const CompareOptions& options) {
  auto read_options = read_settings(options);
  if (auto* problem = std::get_if<CommandResult>(&read_options)) return std::move(*problem);
  const Settings& settings = std::get<Settings>(read_options);
  if (options.a == "-" && options.b == "-") {
    return usage_error("both designs cannot come from standard input", "name a file for one of them");
  }
  CompareResult texts{.files = {options.a, options.b}, .compiled = {read(options.a), read(options.b)}};
  if (!texts.compiled[0].model || !texts.compiled[1].model) return text_errors(texts, settings);
  auto done = compared(options, std::move(texts.compiled), settings);
  if (auto* problem = std::get_if<CommandResult>(&done)) return std::move(*problem);
  return answer(options, std::get<CompareResult>(done), settings);
}

}  // namespace detent::cli
