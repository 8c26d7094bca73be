#include "cli/commands.hpp"

#include <CLI/CLI.hpp>
#include <memory>
#include <utility>

#include "cli/cmd_check.hpp"
#include "cli/cmd_compare.hpp"
#include "cli/cmd_drill.hpp"
#include "cli/cmd_export.hpp"
#include "cli/cmd_faults.hpp"
#include "cli/cmd_format.hpp"
#include "cli/cmd_gaps.hpp"
#include "cli/cmd_lesson.hpp"
#include "cli/cmd_lsp.hpp"
#include "cli/cmd_new.hpp"
#include "cli/cmd_recheck.hpp"
#include "cli/cmd_replay.hpp"
#include "cli/cmd_report.hpp"
#include "cli/cmd_show.hpp"
#include "cli/cmd_step.hpp"
#include "cli/cmd_tune.hpp"
#include "cli/cmd_why.hpp"
#include "cli/help.hpp"
#include "cli/shard/cmd_merge.hpp"

namespace detent::cli {
namespace {

// ---- Options that several commands have ----

void add_flag(CLI::App& command, const std::string& name, bool& flag) {
  command.add_flag(name, flag)->disable_flag_override();
}

/// An option that may be written several times, with one value each time.
void add_list(CLI::App& command, const std::string& name, std::vector<std::string>& values) {
  command.add_option(name, values)->allow_extra_args(false);
}

void add_limits(CLI::App& command, CommonOptions& options) {
  command.add_option("--timeout", options.timeout);
  command.add_option("--memory", options.memory);
  command.add_option("--jobs", options.jobs);
}

void add_page(CLI::App& command, CommonOptions& options) {
  command.add_option("--width", options.width);
  command.add_option("--color", options.color);
}

void add_total(CLI::App& command, CommonOptions& options) {
  command.add_option("--total-timeout", options.total_timeout);
}

void add_common(CLI::App& command, CommonOptions& options) {
  add_limits(command, options);
  command.add_option("--format", options.format);
  add_page(command, options);
}

/// Of the commands that ask many questions, one after another.
void add_many(CLI::App& command, CommonOptions& options) {
  add_common(command, options);
  add_total(command, options);
}

// ---- The commands ----

void describe_check(CLI::App& command, CheckOptions& options) {
  command.add_option("FILE", options.files)->required();
  add_list(command, "--claim", options.claims);
  command.add_option("--within", options.within);
  command.add_option("--shard", options.shard);
  command.add_option("--evidence", options.evidence);
  command.add_option("--run", options.run);
  add_flag(command, "--explain", options.explain);
  add_many(command, options);
  add_flag(command, "--all-signals", options.all_signals);
  add_flag(command, "--statistics", options.statistics);
}

void describe_compare(CLI::App& command, CompareOptions& options) {
  command.add_option("A", options.a)->required();
  command.add_option("B", options.b)->required();
  add_list(command, "--match", options.matches);
  command.add_option("--goal", options.goal);
  command.add_option("--lock", options.lock);
  command.add_option("--rest", options.rest);
  add_many(command, options);
  add_flag(command, "--brief", options.brief);
  add_flag(command, "--all-signals", options.all_signals);
  add_flag(command, "--statistics", options.statistics);
}

void describe_study(CLI::App& command, StudyOptions& options) {
  command.add_option("FILE", options.file)->required();
  add_many(command, options);
}

void describe_faults(CLI::App& command, FaultsOptions& options) {
  describe_study(command, options.study);
  command.add_option("--tolerance", options.tolerance);
  command.add_option("--bounce", options.bounce);
  add_list(command, "--fault", options.faults);
  add_flag(command, "--pairs", options.pairs);
  command.add_option("--shard", options.shard);
  add_flag(command, "--all-runs", options.all_runs);
}

void describe_tune(CLI::App& command, TuneOptions& options) {
  command.add_option("FILE", options.file)->required();
  command.add_option("--only", options.only);
  command.add_option("--together", options.together)->expected(2);
  command.add_option("--step", options.step);
  command.add_option("--shard", options.shard);
  add_many(command, options);
  add_flag(command, "--all-signals", options.all_signals);
  add_flag(command, "--statistics", options.statistics);
}

void describe_merge(CLI::App& command, MergeOptions& options) {
  command.add_option("SHARDS", options.files)->required();
  command.add_option("-o,--output", options.output);
  command.add_option("--jobs", options.jobs);
  command.add_option("--format", options.format);
  add_page(command, options);
  add_flag(command, "--all-runs", options.all_runs);
  add_flag(command, "--all-signals", options.all_signals);
  add_flag(command, "--statistics", options.statistics);
}

void describe_report(CLI::App& command, ReportOptions& options) {
  command.add_option("FILE", options.check.file)->required();
  command.add_option("-o,--output", options.output);
  add_list(command, "--claim", options.check.claims);
  command.add_option("--within", options.check.within);
  command.add_option("--compare", options.compare);
  add_flag(command, "--tune", options.tune);
  add_flag(command, "--faults", options.faults);
  add_flag(command, "--gaps", options.gaps);
  add_flag(command, "--all-signals", options.check.all_signals);
  add_limits(command, options.check);
  add_total(command, options.check);
}

void describe_export(CLI::App& command, ExportOptions& options) {
  command.add_option("FILE", options.check.file)->required();
  command.add_option("--as", options.as)->required();
  command.add_option("-o,--output", options.output);
  add_list(command, "--claim", options.check.claims);
  command.add_option("--within", options.check.within);
  command.add_option("--run", options.check.run);
  add_flag(command, "--circuit", options.circuit);
  add_limits(command, options.check);
}

void describe_lsp(CLI::App& command, LspOptions& options) {
  add_limits(command, options);
}

void describe_step(CLI::App& command, StepOptions& options) {
  command.add_option("FILE", options.file)->required();
  command.add_option("--claim", options.claim);
  add_limits(command, options);
  add_page(command, options);
}

void describe_replay(CLI::App& command, ReplayOptions& options) {
  command.add_option("FILE", options.file)->required();
  command.add_option("LOG", options.log)->required();
  command.add_option("--time", options.wishes.time);
  add_list(command, "--column", options.wishes.columns);
  add_list(command, "--scale", options.wishes.scales);
  add_list(command, "--words", options.wishes.words);
  add_list(command, "--still", options.wishes.stills);
  command.add_option("--tolerance-time", options.tolerance_time);
  add_list(command, "--tolerance-level", options.tolerance_levels);
  command.add_option("--format", options.format);
  add_page(command, options);
}

void describe_drill(CLI::App& command, DrillOptions& options) {
  command.add_option("FILE", options.file)->required();
  command.add_option("-o,--output", options.output);
  command.add_option("--round", options.round);
  add_list(command, "--run", options.runs);
  add_flag(command, "--masking", options.masking);
  add_flag(command, "--elements", options.elements);
  add_flag(command, "--no-changes", options.no_changes);
  add_many(command, options);
}

void describe_new(CLI::App& command, NewOptions& options) {
  command.add_option("--from", options.from);
  command.add_option("-o,--output", options.file);
}

void describe_lesson(CLI::App& command, LessonOptions& options) {
  command.add_option("LESSON", options.lesson);
  command.add_option("--with", options.with);
  command.add_option("--write", options.write);
  add_flag(command, "--all-at-once", options.all_at_once);
  add_limits(command, options);
  add_page(command, options);
}

void describe_format(CLI::App& command, FormatOptions& options) {
  command.add_option("FILE", options.files)->required();
  add_flag(command, "--check", options.check);
}

void describe_why(CLI::App& command, WhyOptions& options) {
  command.add_option("FILE", options.file)->required();
  command.add_option("--claim", options.claim)->required();
  command.add_option("--format", options.format);
  command.add_option("--timeout", options.timeout);
}

void describe_recheck(CLI::App& command, RecheckOptions& options) {
  command.add_option("FOLDER", options.folder)->required();
  command.add_option("--solver", options.solver)->required();
  command.add_option("--timeout", options.timeout);
}

void describe_show(CLI::App& command, ShowOptions& options) {
  command.add_option("FILE", options.file)->required();
  command.add_option("WHAT", options.what);
  command.add_option("--format", options.format);
}

/// A row whose options live as long as the row does.
template <class Options>
Command row(const char* name, void (*describe)(CLI::App&, Options&), std::string (*help)(),
            CommandResult (*run)(const Options&)) {
  const auto options = std::make_shared<Options>();
  return {.name = name,
          .describe = [describe, options](CLI::App& command) { describe(command, *options); },
          .help = help,
          .run = [run, options] { return run(*options); }};
}

}  // namespace

std::vector<Command> all_commands() {
  return {row("check", describe_check, check_help, check),
          row("why", describe_why, why_help, why),
          row("compare", describe_compare, compare_help, compare),
          row("faults", describe_faults, faults_help, faults),
          row("gaps", describe_study, gaps_help, gaps),
          row("tune", describe_tune, tune_help, tune),
          row("merge", describe_merge, merge_help, merge),
          row("report", describe_report, report_help, write_report),
          row("export", describe_export, export_help, export_as),
          row("lsp", describe_lsp, lsp_help, serve_editor),
          row("step", describe_step, step_help, step),
          row("replay", describe_replay, replay_help, replay),
          row("drill", describe_drill, drill_help, drill),
          row("new", describe_new, new_help, new_design),
          row("lesson", describe_lesson, lesson_help, lesson),
          row("format", describe_format, format_help, format_files),
          row("recheck", describe_recheck, recheck_help, recheck),
          row("show", describe_show, show_help, show)};
}

}  // namespace detent::cli
