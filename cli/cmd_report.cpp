// Everything that can be wrong with the command line, the files and the tools is looked at before the check,
// which may take long.
#include "cli/cmd_report.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <utility>
#include <variant>

#include "cli/cmd_check.hpp"
#include "cli/cmd_compare.hpp"
#include "cli/cmd_faults.hpp"
#include "cli/cmd_gaps.hpp"
#include "cli/cmd_tune.hpp"
#include "cli/compare_plan.hpp"
#include "cli/errors_text.hpp"
#include "cli/help.hpp"
#include "cli/output_file.hpp"
#include "cli/reader.hpp"
#include "cli/report/build.hpp"
#include "cli/report/layout.hpp"
#include "cli/report/page_html.hpp"
#include "cli/settings.hpp"
#include "cli/stop.hpp"
#include "cli/study_page.hpp"
#include "cli/verdict_text.hpp"

namespace detent::cli {
namespace {

using Problem = std::optional<CommandResult>;

OutputFile output_of(const ReportOptions& options) {
  return {.path = options.output, .what = "the page", .example = "report.html", .keep = {}};
}

/// Every file that one of the designs is made of stays.
Problem try_output(const ReportOptions& options, const dsl::Compiled& design,
                   const std::optional<dsl::Compiled>& other) {
  OutputFile output = output_of(options);
  keep_designs(output, design.sources);
  if (other) keep_designs(output, other->sources);
  if (!output.is_file() && !options.output && isatty(STDOUT_FILENO) != 0) {
    return usage_error("the page would go to the terminal",
                       fmt::format("name a file: detent report {} -o report.html", options.check.file));
  }
  return try_output_file(output);
}

dsl::Compiled read_design(const std::string& file) {
  return dsl::compile(source_name(file), file_reader(file));
}

CommandResult text_errors(const dsl::Compiled& compiled, const Settings& settings) {
  const Terminal errors = choose_terminal(settings.terminal, look_around(2));
  return {.errors = render(errors_page(compiled, errors), errors), .status = Status::input_wrong};
}

CompareOptions compare_options(const ReportOptions& options) {
  CompareOptions wanted;
  wanted.a = options.check.file;
  wanted.b = *options.compare;
  return wanted;
}

TuneOptions tune_options(const ReportOptions& options) {
  TuneOptions wanted;
  wanted.file = options.check.file;
  return wanted;
}

/// What the page is made from.
struct Task {
  const ReportOptions& options;
  Settings settings;
  StudySettings study;
  std::optional<dsl::Compiled> other;
};

/// Whether what is asked for besides the check fits the design.
Problem try_studies(const Task& task, const dsl::Compiled& design) {
  if (task.other) {
    CompareResult trial{.files = {task.options.check.file, *task.options.compare},
                        .compiled = {design, *task.other}};
    if (Problem problem = plan_comparison(compare_options(task.options), trial)) return problem;
  }
  Problem problem;
  if (task.options.tune) problem = try_tune(tune_options(task.options), design);
  if (!problem && task.options.faults) problem = try_faults(design);
  if (!problem && task.options.gaps) problem = try_gaps(design);
  return problem;
}

Problem add_comparison(const Task& task, const dsl::Compiled& design, report::ReportPage& page) {
  auto done = compared(compare_options(task.options), {design, *task.other}, task.settings);
  if (auto* problem = std::get_if<CommandResult>(&done)) return std::move(*problem);
  const CompareResult& result = std::get<CompareResult>(done);
  if (Problem nothing = nothing_to_compare(result)) return nothing;
  page.sections.push_back(report::section_of(result, {task.options.check.all_signals}));
  return std::nullopt;
}

Problem add_tuning(const Task& task, const dsl::Compiled& design, report::ReportPage& page) {
  auto done = tuned(tune_options(task.options), design, task.settings);
  if (auto* problem = std::get_if<CommandResult>(&done)) return std::move(*problem);
  page.sections.push_back(report::section_of(std::get<TuneResult>(done)));
  return std::nullopt;
}

Problem add_faults(const Task& task, const dsl::Compiled& design, report::ReportPage& page) {
  auto done = studied_faults({}, design, task.study);
  if (auto* problem = std::get_if<CommandResult>(&done)) return std::move(*problem);
  page.sections.push_back(report::section_of(design, std::get<FaultStudy>(done), allowed_words(task.study)));
  return std::nullopt;
}

/// Adds what is asked for besides the check, in the order of the help.
Problem add_studies(const Task& task, const dsl::Compiled& design, report::ReportPage& page) {
  Problem problem;
  if (task.other) problem = add_comparison(task, design, page);
  if (!problem && task.options.tune) problem = add_tuning(task, design, page);
  if (!problem && task.options.faults) problem = add_faults(task, design, page);
  if (!problem && task.options.gaps) {
    page.sections.push_back(
        report::section_of(design, studied_gaps(design, task.study), allowed_words(task.study)));
  }
  return problem;
}

CommandResult deliver_page(const ReportOptions& options, const CheckResult& result, const std::string& html) {
  return deliver_output(
      output_of(options), html, status_of(result),
      fmt::format("{}\nThe page is in {}.\n", summary_words(*result.compiled.model, *result.report),
                  options.output.value_or("")));
}

CommandResult make_page(const Task& task, dsl::Compiled design) {
  CheckOptions check = task.options.check;
  check.small_proofs = true;
  auto done = checked(check, std::move(design), task.settings);
  if (auto* problem = std::get_if<CommandResult>(&done)) return std::move(*problem);
  const CheckResult& result = std::get<CheckResult>(done);
  if (auto nothing = nothing_to_report(result, task.settings)) return std::move(*nothing);
  report::ReportPage page = report::page_of(result, {check.all_signals, task.settings.cancel});
  report::lay_out(page.picture);
  if (Problem problem = add_studies(task, result.compiled, page)) return std::move(*problem);
  page.version = version_text();
  return deliver_page(task.options, result, page_html(page));
}

}  // namespace

CommandResult write_report(const ReportOptions& options) {
  auto read = read_settings(options.check);
  if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
  StudyOptions limits;
  static_cast<CommonOptions&>(limits) = options.check;
  auto read_study = read_study_settings(limits);
  if (auto* problem = std::get_if<CommandResult>(&read_study)) return std::move(*problem);
  Task task{options, std::get<Settings>(read), std::get<StudySettings>(read_study), {}};
  if (options.compare == "-" && options.check.file == "-") {
    return usage_error("both designs cannot come from standard input", "name a file for one of them");
  }
  if (Problem problem = report::try_layout()) return std::move(*problem);
  dsl::Compiled design = read_design(options.check.file);
  if (!design.model) return text_errors(design, task.settings);
  if (options.compare) {
    task.other = read_design(*options.compare);
    if (!task.other->model) return text_errors(*task.other, task.settings);
  }
  if (Problem problem = try_output(options, design, task.other)) return std::move(*problem);
  if (Problem problem = try_studies(task, design)) return std::move(*problem);
  const Stop stop(task.settings);  // one for all of it
  task.settings.cancel = task.study.cancel = stop.flag();
  return make_page(task, std::move(design));
}

}  // namespace detent::cli
