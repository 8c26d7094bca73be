#include "cli/tune_plan.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "cli/study_page.hpp"

namespace detent::cli {
namespace {

using dsl::Tunable;

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

}  // namespace

std::variant<std::vector<Axes>, CommandResult> plan_tune(const TuneOptions& options,
                                                         const dsl::Compiled& compiled) {
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

}  // namespace detent::cli
