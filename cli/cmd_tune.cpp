// Step by step: options, text, which tunables and how fine, engine, page. Each step can end it with a
// message.
#include "cli/cmd_tune.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <variant>

#include "cli/errors_text.hpp"
#include "cli/interrupt.hpp"
#include "cli/progress.hpp"
#include "cli/settings.hpp"
#include "cli/shard/options_json.hpp"
#include "cli/shard/shard_file.hpp"
#include "cli/shard/tune_part.hpp"
#include "cli/study_page.hpp"
#include "cli/terminal.hpp"
#include "cli/tune_json.hpp"
#include "cli/tune_study.hpp"
#include "cli/tune_text.hpp"
#include "solver/forever.hpp"

namespace detent::cli {
namespace {

using dsl::Tunable;
using Axes = std::vector<TuneAxis>;

template <class T>
using Outcome = std::variant<T, CommandResult>;

Outcome<const Tunable*> choose_tunable(const char* option, const std::string& name,
                                       const std::vector<Tunable>& all) {
  std::vector<std::string> names;
  for (const Tunable& one : all) {
    if (one.name == name) return &one;
    names.push_back(one.name);
  }
  const std::string near = dsl::nearest_name(name, names);
  return usage_error(fmt::format("{}: no tunable is called '{}'", option, name),
                     near.empty() ? fmt::format("the tunables are: {}", fmt::join(names, ", "))
                                  : fmt::format("did you mean '{}'?", near));
}

/// The tunables of each study.
Outcome<std::vector<std::vector<const Tunable*>>> choose(const TuneOptions& options,
                                                         const std::vector<Tunable>& all) {
  std::vector<std::vector<const Tunable*>> studies;
  if (options.only && !options.together.empty()) {
    return usage_error("--only and --together don't go together", "leave out one of them");
  }
  std::vector<const Tunable*> pair;
  for (const std::string& name : options.together) {
    auto choice = choose_tunable("--together", name, all);
    if (auto* problem = std::get_if<CommandResult>(&choice)) return std::move(*problem);
    pair.push_back(std::get<const Tunable*>(choice));
  }
  if (!pair.empty()) {
    if (pair.front() == pair.back()) {
      return usage_error(fmt::format("--together: '{}' is named twice", pair.front()->name),
                         "name two tunables");
    }
    studies.push_back(pair);
    return studies;
  }
  for (const Tunable& one : all) {
    if (!options.only) studies.push_back({&one});
  }
  if (options.only) {
    auto choice = choose_tunable("--only", *options.only, all);
    if (auto* problem = std::get_if<CommandResult>(&choice)) return std::move(*problem);
    studies.push_back({std::get<const Tunable*>(choice)});
  }
  return studies;
}

CommandResult too_many(const std::vector<const Tunable*>& tunables, dsl::Value count) {
  const bool two = tunables.size() == 2;
  return usage_error(
      fmt::format("{}{} would be {} values to decide, and {} are the most", tunables.front()->name,
                  two ? " and " + tunables.back()->name : "", count, most_points),
      fmt::format("look at fewer with --step, for example --step \"{}\"; or write a smaller range",
                  tunables.front()->is_time ? "100 ms" : "5 " + tunables.front()->sort.unit));
}

/// A step that leaves only the written value would pass for a look at the whole range.
CommandResult too_wide(const Tunable& tunable, const std::string& step, std::int64_t tick_us) {
  return usage_error(fmt::format("--step: '{}' leaves no value of '{}' but the written one, {}", step,
                                 tunable.name, dsl::value_text(tunable, tunable.written, tick_us)),
                     fmt::format("write a smaller step: the range is {} to {}",
                                 dsl::value_text(tunable, tunable.low, tick_us),
                                 dsl::value_text(tunable, tunable.high, tick_us)));
}

Outcome<Axes> axes_of(const std::vector<const Tunable*>& tunables, const std::optional<std::string>& step,
                      std::int64_t tick_us, bool& step_used) {
  std::vector<dsl::Value> steps;
  dsl::Value count = 1;
  for (const Tunable* one : tunables) {
    const auto wished = step ? dsl::read_step(*one, *step, tick_us) : std::nullopt;
    step_used = step_used || wished;
    steps.push_back(wished.value_or(1));
    const dsl::Value more = count_of_values(*one, steps.back());
    if (wished && more == 1 && one->low != one->high) return too_wide(*one, *step, tick_us);
    count = more > static_cast<dsl::Value>(most_points) ? more : count * more;
  }
  if (count > static_cast<dsl::Value>(most_points)) return too_many(tunables, count);
  Axes axes;
  for (std::size_t index = 0; index < tunables.size(); ++index) {
    axes.push_back(axis_of(*tunables[index], steps[index]));
  }
  return axes;
}

Outcome<std::vector<Axes>> plan(const TuneOptions& options, const dsl::Compiled& compiled) {
  const dsl::Model& model = *compiled.model;
  if (model.claims.empty()) {
    return nothing_claimed("every value is as good as any other");
  }
  const std::vector<Tunable> all = dsl::tunables(compiled.tree, model.tick_us);
  if (all.empty()) {
    return usage_error("this design has no tunables, so there is nothing to tune",
                       "give a number or a time a name and a range, and use the name in its place: tunable "
                       "patience = 8 s from 1 s to 15 s");
  }
  auto chosen = choose(options, all);
  if (auto* problem = std::get_if<CommandResult>(&chosen)) return std::move(*problem);
  std::vector<Axes> studies;
  bool step_used = false;
  for (const auto& tunables : std::get<0>(chosen)) {
    auto axes = axes_of(tunables, options.step, model.tick_us, step_used);
    if (auto* problem = std::get_if<CommandResult>(&axes)) return std::move(*problem);
    studies.push_back(std::move(std::get<Axes>(axes)));
  }
  if (options.step && !step_used) {
    return usage_error(
        fmt::format("--step: '{}' is no step of any tunable that is looked at", *options.step),
        "write a whole number of ticks or of steps of the last digit written, with the unit of "
        "the tunable, such "
        "as \"100 ms\" or \"0.5 %\"");
  }
  return studies;
}

solver::TuneOptions limits_of(const Settings& settings, const Interrupt& interrupt, ProgressLine& line) {
  return {.timeout = settings.timeout.value_or(usual_patience),
          .memory_mib = settings.memory_mib,
          .cancel = interrupt.flag(),
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
    const Interrupt interrupt(settings.total_timeout);
    ProgressLine line;
    for (const PointStretch& one : mine) {
      decide(result.studies[one.study], result.compiled, one.points, limits_of(settings, interrupt, line));
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
  auto planned = plan(options, result.compiled);
  if (auto* problem = std::get_if<CommandResult>(&planned)) return std::move(*problem);
  for (Axes& axes : std::get<0>(planned)) result.studies.push_back(planned_study(std::move(axes)));
  return result;
}

std::variant<TuneResult, CommandResult> tuned(const TuneOptions& options, dsl::Compiled design,
                                              const Settings& settings) {
  auto planned = planned_tune(options, std::move(design), settings);
  if (auto* problem = std::get_if<CommandResult>(&planned)) return std::move(*problem);
  TuneResult& result = std::get<TuneResult>(planned);
  const Interrupt interrupt(settings.total_timeout);
  ProgressLine line;
  const solver::TuneOptions limits = limits_of(settings, interrupt, line);
  for (TuneStudy& one : result.studies) {
    decide(one, result.compiled, {0, one.grid.points()}, limits);
    finish(one, result.compiled, limits);
  }
  return std::move(result);
}

void finish(TuneResult& result, const Settings& settings) {
  const Interrupt interrupt(settings.total_timeout);
  ProgressLine line;
  for (TuneStudy& one : result.studies) finish(one, result.compiled, limits_of(settings, interrupt, line));
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
  auto planned = plan(options, design);
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
