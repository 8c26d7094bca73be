// Step by step: options, text, plan, engine, page. Each step can end it with a message.
#include "cli/cmd_tune.hpp"

#include <utility>
#include <variant>

#include "cli/errors_text.hpp"
#include "cli/progress.hpp"
#include "cli/settings.hpp"
#include "cli/shard/options_json.hpp"
#include "cli/shard/shard_file.hpp"
#include "cli/shard/tune_part.hpp"
#include "cli/stop.hpp"
#include "cli/study_page.hpp"
#include "cli/terminal.hpp"
#include "cli/tune_json.hpp"
#include "cli/tune_plan.hpp"
#include "cli/tune_study.hpp"
#include "cli/tune_text.hpp"
#include "solver/forever.hpp"

namespace detent::cli {
namespace {

solver::TuneOptions limits_of(const Settings& settings, const Stop& stop, ProgressLine& line) {
  return {.timeout = settings.timeout.value_or(usual_patience),
          .memory_mib = settings.memory_mib,
          .cancel = stop.flag(),
          .progress =
              [&line](const solver::TuneProgress& progress) {
                line.show(progress.decided, progress.points, "value");
              },
          .jobs = settings.jobs};
}

CommandResult shard_of_tune(const TuneOptions& options, const Settings& settings, dsl::Compiled compiled,
                            Recording files) {
  const auto shard = read_shard(*options.shard);
  if (!shard.value) return bad_option("--shard", shard);
  if (options.all_signals) return page_only("--all-signals");
  if (options.statistics) return page_only("--statistics");
  auto planned = planned_tune(options, std::move(compiled), settings);
  if (auto* problem = std::get_if<CommandResult>(&planned)) return std::move(*problem);
  TuneResult& result = std::get<TuneResult>(planned);
  const std::vector<PointStretch> mine = stretches_of(result.studies, *shard.value);
  {
    const Stop stop(settings);
    ProgressLine line;
    for (const PointStretch& one : mine) {
      decide(result.studies[one.study], result.compiled, one.points, limits_of(settings, stop, line));
    }
  }
  return shard_result({.command = "tune",
                       .shard = *shard.value,
                       .options = json_options(options),
                       .files = std::move(files),
                       .digest = {},
                       .part = tune_part(result, mine)},
                      all_decided(result, mine));
}

}  // namespace

std::variant<TuneResult, CommandResult> planned_tune(const TuneOptions& options, dsl::Compiled design,
                                                     const Settings& settings) {
  TuneResult result{.file = options.file, .compiled = std::move(design), .allowed = patience_words(settings)};
  auto planned = plan_tune(options, result.compiled);
  if (auto* problem = std::get_if<CommandResult>(&planned)) return std::move(*problem);
  for (std::vector<TuneAxis>& axes : std::get<0>(planned))
    result.studies.push_back(planned_study(std::move(axes)));
  return result;
}

std::variant<TuneResult, CommandResult> tuned(const TuneOptions& options, dsl::Compiled design,
                                              const Settings& settings) {
  auto planned = planned_tune(options, std::move(design), settings);
  if (auto* problem = std::get_if<CommandResult>(&planned)) return std::move(*problem);
  TuneResult& result = std::get<TuneResult>(planned);
  const Stop stop(settings);
  ProgressLine line;
  const solver::TuneOptions limits = limits_of(settings, stop, line);
  for (TuneStudy& one : result.studies) {
    decide(one, result.compiled, {0, one.grid.points()}, limits);
    finish(one, result.compiled, limits);
  }
  return std::move(result);
}

void finish(TuneResult& result, const Settings& settings) {
  const Stop stop(settings);
  ProgressLine line;
  for (TuneStudy& one : result.studies) finish(one, result.compiled, limits_of(settings, stop, line));
}

CommandResult tune_answer(const TuneOptions& options, const Settings& settings, const TuneResult& result) {
  if (settings.json) return {.output = tune_json_text(result), .status = status_of(result)};
  if (status_of(result) == Status::input_wrong) {
    const solver::Report report =
        solver::check_forever(*result.compiled.model, {.claims = {0},
                                                       .timeout = settings.timeout.value_or(usual_patience),
                                                       .memory_mib = settings.memory_mib,
                                                       .side_findings = false});
    if (report.no_run_of) return contradiction(result.compiled, report, settings.terminal);
    return usage_error("with the written values, the assumptions of this design leave no run at all",
                       "one of the assumptions must go or ask for less");
  }
  const Terminal terminal = choose_terminal(settings.terminal, look_around(1));
  return {.output = render(tune_page(result, {options.all_signals, options.statistics}, terminal), terminal),
          .status = status_of(result)};
}

std::optional<CommandResult> try_tune(const TuneOptions& options, const dsl::Compiled& design) {
  auto planned = plan_tune(options, design);
  if (auto* problem = std::get_if<CommandResult>(&planned)) return std::move(*problem);
  return std::nullopt;
}

CommandResult tune(const TuneOptions& options) {
  auto read = read_settings(options);
  if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
  const Settings& settings = std::get<Settings>(read);
  Recording files;
  TuneResult text{.file = options.file, .compiled = compile_recorded(options.file, files)};
  if (!text.compiled.model) {
    if (settings.json) return {.output = tune_json_text(text), .status = Status::input_wrong};
    const Terminal errors = choose_terminal(settings.terminal, look_around(2));
    return {.errors = render(errors_page(text.compiled, errors), errors), .status = Status::input_wrong};
  }
  if (options.shard) return shard_of_tune(options, settings, std::move(text.compiled), std::move(files));
  auto done = tuned(options, std::move(text.compiled), settings);
  if (auto* problem = std::get_if<CommandResult>(&done)) return std::move(*problem);
  return tune_answer(options, settings, std::get<TuneResult>(done));
}

}  // namespace detent::cli
