// Step by step: options, text, runs that are given, the study, and the list in the form that is asked for.
#include "cli/cmd_drill.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <numeric>
#include <utility>
#include <variant>

#include "cli/drill_report.hpp"
#include "cli/errors_text.hpp"
#include "cli/file_writer.hpp"
#include "cli/progress.hpp"
#include "cli/reader.hpp"
#include "cli/run_check.hpp"
#include "cli/run_judge.hpp"
#include "cli/run_text.hpp"
#include "cli/settings.hpp"
#include "cli/stop.hpp"
#include "cli/study_page.hpp"
#include "cli/words.hpp"
#include "solver/forever.hpp"

namespace detent::cli {
namespace {

using dsl::Model;

std::optional<CommandResult> unknown_format(const std::string& format) {
  const std::vector<std::string> known{"md", "html", "csv", "json"};
  if (std::find(known.begin(), known.end(), format) != known.end()) return std::nullopt;
  return usage_error(fmt::format("--format: there is no '{}'", format), "write one of: md, html, csv, json");
}

/// The settings all commands share; of their two formats only JSON is one here.
std::variant<Settings, CommandResult> read_shared(const DrillOptions& options) {
  if (auto problem = unknown_format(options.format)) return std::move(*problem);
  CommonOptions common = options;
  common.format = options.format == "json" ? "json" : "text";
  return read_settings(common);
}

/// A run that is to be part of the list: one that the design takes as it should.
std::optional<CommandResult> add_run(const std::string& path, const dsl::Compiled& compiled,
                                     DrillWishes& wishes) {
  const Model& model = *compiled.model;
  auto file = read_run_file("--run", path);
  if (auto* problem = std::get_if<CommandResult>(&file)) return std::move(*problem);
  const Reading<HandRun> run = read_run(model, std::get<std::string>(file));
  if (!run.value) return usage_error(fmt::format("--run {}: {}", path, run.problem), run.mend);
  std::vector<std::uint32_t> claims(model.claims.size());
  std::iota(claims.begin(), claims.end(), 0U);
  const RunJudgement judgement = judge(model, *run.value, claims, choose_terminal({}, look_around(1)));
  if (judgement.unkept) {
    return usage_error(
        fmt::format("--run {}: at {} the run does what the design takes for granted never to happen: {}",
                    path, seconds_words(judgement.unkept->tick, model.tick_us),
                    assumption_words(model, compiled.sources, judgement.unkept->constraint)),
        "let the run keep to it, or take it out of the design");
  }
  for (const ClaimOnRun& one : judgement.claims) {
    const dsl::Claim& claim = model.claims[one.claim];
    if (claim.possible || !one.tick) continue;
    return usage_error(
        fmt::format("--run {}: at {} the run breaks the claim {}: the design is not mended yet", path,
                    seconds_words(*one.tick, model.tick_us), claim.name),
        "mend the design first (detent check FILE --run NAME.run tells more), or leave the run out");
  }
  wishes.runs.emplace_back(path, as_run(*run.value));
  return std::nullopt;
}

CommandResult written(const std::string& path, const std::string& text) {
  switch (write_file(path, text, false)) {
    case Written::yes:
      return {.output = fmt::format("Written: {}\n", path)};
    case Written::is_there:
      return usage_error(fmt::format("drill: '{}' is there already, and stays as it is", path),
                         "name another file: -o FILE");
    case Written::no:
      break;
  }
  return usage_error(fmt::format("drill: can't write '{}'", path),
                     "name a file in a folder that can be written to, on a disk with room: -o FILE");
}

/// "bench.csv" and 2: "bench-2.csv".
std::string numbered(const std::string& path, std::size_t number) {
  const std::filesystem::path whole(path);
  return (whole.parent_path() /
          fmt::format("{}-{}{}", whole.stem().string(), number, whole.extension().string()))
      .string();
}

CommandResult table(const DrillOptions& options, const DrillReport& report) {
  const std::size_t count = report.sheet.size();
  std::size_t first = 0, last = count;
  if (options.round) {
    const auto number = read_jobs(*options.round);
    if (!number.value || *number.value < 1 || *number.value > count) {
      return usage_error(fmt::format("--round: '{}' is no round of this list", *options.round),
                         fmt::format("write a number from 1 to {}", count));
    }
    first = *number.value - 1;
    last = first + 1;
  }
  if (!options.output) {
    if (last - first == 1) return {.output = drill_csv(report, first, false)};
    return usage_error(fmt::format("drill: this list has {} rounds, and a table holds one", count),
                       "write -o NAME.csv for a file each, or --round N for one of them");
  }
  CommandResult result;
  for (std::size_t round = first; round < last; ++round) {
    const std::string path = count == 1 ? *options.output : numbered(*options.output, round + 1);
    CommandResult one = written(path, drill_csv(report, round, false));
    result.output += one.output;
    if (one.status != Status::all_hold) {
      one.output = result.output;
      return one;
    }
  }
  return result;
}

CommandResult answer(const DrillOptions& options, const DrillReport& report) {
  const Status status = status_of(report);
  CommandResult result;
  if (options.format == "csv") {
    result = table(options, report);
  } else {
    const std::string text = options.format == "html"   ? drill_html(report)
                             : options.format == "json" ? drill_json(report, status)
                                                        : drill_markdown(report);
    result = options.output ? written(*options.output, text) : CommandResult{.output = text};
  }
  if (result.status == Status::all_hold) result.status = status;
  return result;
}

/// Which assumptions leave no run, told as `check` does.
CommandResult no_run(const dsl::Compiled& compiled, const Settings& settings, Value ticks) {
  StudySettings study{.terminal = settings.terminal};
  study.memory_mib = settings.memory_mib;
  return contradiction(compiled, ticks, study);
}

DrillStudy study(const dsl::Compiled& compiled, const DrillWishes& wishes, const Settings& settings) {
  const Stop stop(settings);
  ProgressLine line;
  return study_drill(compiled, wishes,
                     {.timeout = settings.timeout.value_or(std::chrono::milliseconds(20'000)),
                      .memory_mib = settings.memory_mib,
                      .cancel = stop.flag(),
                      .jobs = settings.jobs},
                     [&line](std::size_t done, std::size_t all) { line.show(done, all, "thing to show"); });
}

}  // namespace

CommandResult drill(const DrillOptions& options) {
  auto read = read_shared(options);
  if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
  const Settings& settings = std::get<Settings>(read);
  if (options.round && options.format != "csv") {
    return usage_error("--round goes with --format csv only", "leave it out");
  }
  DrillReport report{.file = options.file,
                     .compiled = dsl::compile(source_name(options.file), file_reader(options.file)),
                     .study = {},
                     .sheet = {},
                     .variant = options.masking ? solver::Mcdc::masking : solver::Mcdc::unique_cause,
                     .changes = !options.no_changes,
                     .elements = options.elements};
  if (!report.compiled.model) {
    if (settings.json)
      return {.output = drill_json(report, Status::input_wrong), .status = Status::input_wrong};
    const Terminal errors = choose_terminal(settings.terminal, look_around(2));
    return {.errors = render(errors_page(report.compiled, errors), errors), .status = Status::input_wrong};
  }
  DrillWishes wishes{
      .variant = report.variant, .changes = report.changes, .elements = report.elements, .runs = {}};
  for (const std::string& path : options.runs) {
    if (auto problem = add_run(path, report.compiled, wishes)) return std::move(*problem);
  }
  report.study = study(report.compiled, wishes, settings);
  if (report.study.no_run_of) return no_run(report.compiled, settings, *report.study.no_run_of);
  report.sheet = drill_sheet(report.study);
  return answer(options, report);
}

}  // namespace detent::cli
