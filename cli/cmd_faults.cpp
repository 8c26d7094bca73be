// Options, text, list of faults, study, page. Each step can end it with a message.
#include "cli/cmd_faults.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/fault_study.hpp"
#include "cli/fault_summary.hpp"
#include "cli/faults_text.hpp"
#include "cli/progress.hpp"
#include "cli/quantities.hpp"
#include "cli/settings.hpp"
#include "cli/shard/faults_part.hpp"
#include "cli/shard/options_json.hpp"
#include "cli/shard/shard_file.hpp"
#include "cli/stop.hpp"
#include "cli/study_json.hpp"
#include "cli/study_page.hpp"
#include "dsl/diagnostics.hpp"
#include "dsl/fault_list.hpp"

namespace detent::cli {
namespace {

std::optional<CommandResult> read_fault_options(const FaultsOptions& options, std::int64_t tick_us,
                                                dsl::FaultOptions& settings) {
  if (options.tolerance) {
    const auto share = read_share(*options.tolerance);
    if (!share.value) return usage_error("--tolerance: " + share.problem, share.mend);
    settings.tolerance = *share.value;
  }
  if (options.bounce) {
    const auto ticks = read_ticks(*options.bounce, tick_us);
    if (!ticks.value) return usage_error("--bounce: " + ticks.problem, ticks.mend);
    settings.bounce_ticks = *ticks.value;
  }
  return std::nullopt;
}

std::optional<CommandResult> choose_faults(const std::vector<std::string>& wanted,
                                           const std::vector<dsl::Alteration>& faults,
                                           std::vector<std::size_t>& chosen) {
  for (const std::string& name : wanted) {
    const auto found = std::find_if(faults.begin(), faults.end(),
                                    [&](const dsl::Alteration& fault) { return fault.name == name; });
    if (found == faults.end()) {
      std::vector<std::string> names;
      for (const dsl::Alteration& fault : faults) names.push_back(fault.name);
      const std::string near = name.empty() ? "" : dsl::nearest_name(name, names);
      return usage_error(
          name.empty() ? "--fault: no name is written" : fmt::format("--fault: there is no fault '{}'", name),
          near.empty() ? "detent faults FILE lists them; write the name as it stands there, in quotes"
                       : fmt::format("did you mean '{}'?", near));
    }
    chosen.push_back(static_cast<std::size_t>(found - faults.begin()));
  }
  std::sort(chosen.begin(), chosen.end());
  chosen.erase(std::unique(chosen.begin(), chosen.end()), chosen.end());
  return std::nullopt;
}

FaultStudy study(const dsl::Compiled& compiled, FaultPlan plan, const StudySettings& settings) {
  const Stop stop(settings);
  ProgressLine line;
  return study_faults(*compiled.design, compiled.sources, std::move(plan.faults), plan.wishes,
                      {.timeout = settings.timeout,
                       .memory_mib = settings.memory_mib,
                       .cancel = stop.flag(),
                       .jobs = settings.jobs},
                      [&line](std::size_t done, std::size_t all) { line.show(done, all, "faulty design"); });
}

Status status_of(const dsl::Model& model, const FaultStudy& study) {
  if (study.without.no_run_of) return Status::input_wrong;
  const auto is = [](solver::Outcome outcome) {
    return [outcome](const solver::Verdict& verdict) { return verdict.outcome == outcome; };
  };
  const auto& verdicts = study.without.verdicts;
  bool refuted = std::any_of(verdicts.begin(), verdicts.end(), is(solver::Outcome::refuted));
  bool undecided = !study.without.looked_at ||
                   std::any_of(verdicts.begin(), verdicts.end(), is(solver::Outcome::undecided));
  for (const auto* cases : {&study.singles, &study.pairs}) {
    const FaultSummary sum = summary_of(model, study, *cases);
    refuted = refuted || sum.fallen > 0;
    undecided = undecided || sum.undecided > 0;
  }
  return refuted ? Status::refuted : (undecided ? Status::undecided : Status::all_hold);
}

}  // namespace

std::optional<CommandResult> try_faults(const dsl::Compiled& compiled) {
  if (!compiled.model->claims.empty()) return std::nullopt;
  return nothing_claimed("there is nothing that a fault could break");
}

std::variant<FaultPlan, CommandResult> planned_faults(const FaultsOptions& options,
                                                      const dsl::Compiled& compiled) {
  if (auto problem = try_faults(compiled)) return std::move(*problem);
  dsl::FaultOptions kinds{.ends = dsl::ends_of_levels(*compiled.model)};
  if (auto problem = read_fault_options(options, compiled.model->tick_us, kinds)) return std::move(*problem);
  FaultPlan plan{.faults = dsl::list_faults(*compiled.design, kinds),
                 .wishes = {.only = {}, .pairs = options.pairs, .shard = {}}};
  if (auto problem = choose_faults(options.faults, plan.faults, plan.wishes.only)) return std::move(*problem);
  return plan;
}

std::variant<FaultStudy, CommandResult> studied_faults(const FaultsOptions& options,
                                                       const dsl::Compiled& compiled,
                                                       const StudySettings& settings, const Shard& shard) {
  auto planned = planned_faults(options, compiled);
  if (auto* problem = std::get_if<CommandResult>(&planned)) return std::move(*problem);
  std::get<FaultPlan>(planned).wishes.shard = shard;
  return study(compiled, std::move(std::get<FaultPlan>(planned)), settings);
}

CommandResult faults_answer(const FaultsOptions& options, const dsl::Compiled& compiled,
                            const FaultStudy& result, const StudySettings& settings) {
  const Status status = status_of(*compiled.model, result);
  if (settings.json) {
    return {.output = faults_json(options.study.file, compiled, &result, status), .status = status};
  }
  if (result.without.no_run_of) return contradiction(compiled, *result.without.no_run_of, settings);
  const Terminal terminal = choose_terminal(settings.terminal, look_around(1));
  const FaultsPageWishes page{options.all_runs || !options.faults.empty(), allowed_words(settings)};
  return {.output = render(faults_page(compiled, result, page, terminal), terminal), .status = status};
}

namespace {

CommandResult shard_of_faults(const FaultsOptions& options, const dsl::Compiled& compiled,
                              const StudySettings& settings, Recording files) {
  const auto shard = read_shard(*options.shard);
  if (!shard.value) return bad_option("--shard", shard);
  if (options.all_runs) return page_only("--all-runs");
  auto done = studied_faults(options, compiled, settings, *shard.value);
  if (auto* problem = std::get_if<CommandResult>(&done)) return std::move(*problem);
  FaultStudy& result = std::get<FaultStudy>(done);
  ShardFile file{.command = "faults",
                 .shard = *shard.value,
                 .options = json_options(options),
                 .files = std::move(files),
                 .digest = {},
                 .part = faults_part(compiled, result, *shard.value)};
  const bool decided = all_decided(result, *shard.value);
  result = {};  // of a large design both at once are a gigabyte
  return shard_result(std::move(file), decided);
}

}  // namespace

CommandResult faults(const FaultsOptions& options) {
  auto read = read_study_settings(options.study);
  if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
  const StudySettings& settings = std::get<StudySettings>(read);
  const std::string& file = options.study.file;
  Recording files;
  const dsl::Compiled compiled = compile_recorded(file, files);
  if (!compiled.model) {
    return no_study(compiled, settings, faults_json(file, compiled, nullptr, Status::input_wrong));
  }
  if (options.shard) return shard_of_faults(options, compiled, settings, std::move(files));
  auto done = studied_faults(options, compiled, settings, {});
  if (auto* problem = std::get_if<CommandResult>(&done)) return std::move(*problem);
  return faults_answer(options, compiled, std::get<FaultStudy>(done), settings);
}

}  // namespace detent::cli
