// The task is planned again from the texts and options in the shards, as one run would plan it; what shards
// have found is put in its place; and the same functions as in one run make the answer of it.
#include "cli/shard/cmd_merge.hpp"

#include <fmt/format.h>

#include <utility>

#include "cli/cmd_check.hpp"
#include "cli/cmd_faults.hpp"
#include "cli/cmd_tune.hpp"
#include "cli/output_file.hpp"
#include "cli/settings.hpp"
#include "cli/shard/check_part.hpp"
#include "cli/shard/faults_part.hpp"
#include "cli/shard/gather.hpp"
#include "cli/shard/options_json.hpp"
#include "cli/shard/tune_part.hpp"
#include "cli/study_page.hpp"

namespace detent::cli {
namespace {

using Problem = std::optional<CommandResult>;
using Shards = std::vector<Gathered>;

/// How the page is to look, as `merge` was told, over what the shards were told.
template <class Options>
void show_as(const MergeOptions& wishes, Options& options) {
  options.format = wishes.format;
  options.width = wishes.width;
  options.color = wishes.color;
  options.jobs = wishes.jobs;
}

Problem try_wishes(const MergeOptions& options, const std::string& command) {
  const bool runs = options.all_runs && command != "faults";
  const bool others = (options.all_signals || options.statistics) && command == "faults";
  if (!runs && !others) return std::nullopt;
  return usage_error(fmt::format("{} is no option of detent {}, which these shards are of",
                                 runs                 ? "--all-runs"
                                 : options.statistics ? "--statistics"
                                                      : "--all-signals",
                                 command),
                     "leave it out");
}

/// A text without errors, as a shard of one design must have it.
dsl::Compiled design_of(const std::string& file, const Gathered& shard) {
  dsl::Compiled compiled = compile_again(file, shard.file.files);
  if (!compiled.model) throw Misfit{shard.name + ": files: the design in it has errors"};
  return compiled;
}

/// With the file in front of the path, so that a misfit names both.
std::vector<PartOf> parts_of(const Shards& shards) {
  std::vector<PartOf> parts;
  for (const Gathered& one : shards)
    parts.push_back({one.file.shard, Strict(one.file.part, one.name + ": part")});
  return parts;
}

Strict options_of(const Gathered& shard) {
  return Strict(shard.file.options, shard.name + ": options");
}

// ---- The commands ----

CommandResult merge_faults(const MergeOptions& wishes, const Shards& shards) {
  FaultsOptions options = read_faults_options(options_of(shards.front()));
  show_as(wishes, options.study);
  options.all_runs = wishes.all_runs;
  auto read = read_study_settings(options.study);
  if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
  const StudySettings& settings = std::get<StudySettings>(read);
  const dsl::Compiled compiled = design_of(options.study.file, shards.front());
  auto planned = planned_faults(options, compiled);
  if (auto* problem = std::get_if<CommandResult>(&planned)) return std::move(*problem);
  FaultPlan& plan = std::get<FaultPlan>(planned);
  FaultStudy study;
  study.faults = std::move(plan.faults);
  study.singles = single_cases(study.faults.size(), plan.wishes.only);
  study.with_pairs = plan.wishes.pairs;
  study = joined_faults(compiled, std::move(study), parts_of(shards));
  return faults_answer(options, compiled, study, settings);
}

CommandResult merge_tune(const MergeOptions& wishes, const Shards& shards) {
  TuneOptions options = read_tune_options(options_of(shards.front()));
  show_as(wishes, options);
  options.all_signals = wishes.all_signals;
  options.statistics = wishes.statistics;
  auto read = read_settings(options);
  if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
  const Settings& settings = std::get<Settings>(read);
  auto planned = planned_tune(options, design_of(options.file, shards.front()), settings);
  if (auto* problem = std::get_if<CommandResult>(&planned)) return std::move(*problem);
  TuneResult& result = std::get<TuneResult>(planned);
  join_tune(result, parts_of(shards));
  finish(result, settings);
  return tune_answer(options, settings, result);
}

CommandResult merge_checks(const MergeOptions& wishes, const Shards& shards) {
  CheckOptions options = read_check_options(options_of(shards.front()));
  show_as(wishes, options);
  if (options.within) options.jobs.reset();
  options.all_signals = wishes.all_signals;
  options.statistics = wishes.statistics;
  auto read = read_settings(options, {"sarif", "junit"});
  if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
  const Settings& settings = std::get<Settings>(read);
  Checks checks(options.files.size());
  for (const Gathered& one : shards) {
    for (std::size_t index = 0; index < checks.size(); ++index) {
      if (!one.file.shard.has(index)) continue;
      const std::string& file = options.files[index];
      checks[index] = CheckResult{.file = file, .compiled = compile_again(file, one.file.files)};
      if (Problem problem = plan_check(options, settings, *checks[index])) return std::move(*problem);
    }
  }
  for (const PartOf& part : parts_of(shards)) join_checks(checks, part);
  if (checks.size() == 1) options.file = options.files.front();
  return checks_answer(options, settings, checks);
}

CommandResult merge_all(const MergeOptions& options, const Shards& shards) {
  const std::string& command = shards.front().file.command;
  if (Problem problem = try_wishes(options, command)) return std::move(*problem);
  if (command == "faults") return merge_faults(options, shards);
  if (command == "tune") return merge_tune(options, shards);
  if (command == "check") return merge_checks(options, shards);
  return usage_error(fmt::format("{}: detent {} has no shards", shards.front().name, command),
                     "give what detent check, faults or tune print with --shard K/N");
}

}  // namespace

CommandResult merge(const MergeOptions& options) {
  // The forms of a check are for the shards of one only; the others refuse them when they read the options.
  auto read = read_settings(options, {"sarif", "junit"});
  if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
  OutputFile output{.path = options.output, .what = "the answer", .example = "all.txt", .keep = {}};
  for (const std::string& file : options.files) output.keep.emplace_back("a shard", file);
  auto gathered = gather(options.files);
  if (auto* problem = std::get_if<CommandResult>(&gathered)) return std::move(*problem);
  const Shards& shards = std::get<Shards>(gathered);
  for (const Gathered& one : shards) {
    for (const auto& [name, text] : one.file.files) output.keep.emplace_back("a file of the design", name);
  }
  if (Problem problem = try_output_file(output)) return std::move(*problem);
  CommandResult answer;
  try {
    answer = merge_all(options, shards);
  } catch (const Misfit& misfit) {
    answer = usage_error(misfit.what, "make this shard again");
  }
  if (!output.is_file() || answer.output.empty()) return answer;
  CommandResult told = deliver_output(output, answer.output, answer.status, "");
  told.errors = answer.errors + told.errors;
  return told;
}

}  // namespace detent::cli
