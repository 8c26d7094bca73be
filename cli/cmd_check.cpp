// The check, step by step: options, text, bound and claims, engine, page. Each step can end it with a
// message.
#include "cli/cmd_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <thread>
#include <variant>

#include "cli/check_result.hpp"
#include "cli/claim_choice.hpp"
#include "cli/errors_text.hpp"
#include "cli/evidence.hpp"
#include "cli/explain.hpp"
#include "cli/explain_text.hpp"
#include "cli/export/check_format.hpp"
#include "cli/progress.hpp"
#include "cli/quantities.hpp"
#include "cli/reader.hpp"
#include "cli/report_text.hpp"
#include "cli/run_check.hpp"
#include "cli/settings.hpp"
#include "cli/shard/check_many.hpp"
#include "cli/stop.hpp"
#include "cli/terminal.hpp"
#include "solver/bounded.hpp"
#include "solver/forever.hpp"

namespace detent::cli {
namespace {

using dsl::Value;

std::optional<CommandResult> choose_claims(const CheckOptions& options, const dsl::Model& model,
                                           std::vector<std::uint32_t>& chosen) {
  for (const std::string& name : options.claims) {
    auto choice = choose_claim("--claim", name, model);
    if (auto* problem = std::get_if<CommandResult>(&choice)) return std::move(*problem);
    chosen.push_back(std::get<std::uint32_t>(choice));
  }
  std::sort(chosen.begin(), chosen.end());
  chosen.erase(std::unique(chosen.begin(), chosen.end()), chosen.end());
  return std::nullopt;
}

solver::Report check_up_to(Value ticks, const std::vector<std::uint32_t>& claims, const dsl::Model& model,
                           const Settings& settings) {
  const Stop stop(settings);
  ProgressLine line;
  return solver::check_bounded(
      model, {.within = ticks,
              .claims = claims,
              .timeout = settings.timeout,
              .memory_mib = settings.memory_mib,
              .cancel = stop.flag(),
              .progress = [&line](const solver::Progress& progress) { line.show(progress); }});
}

solver::Report check_all_time(const CheckOptions& options, const std::vector<std::uint32_t>& claims,
                              const dsl::Model& model, const Settings& settings) {
  const Stop stop(settings);
  ProgressLine line;
  return solver::check_forever(
      model, {.claims = claims,
              .timeout = settings.timeout.value_or(usual_patience),
              .memory_mib = settings.memory_mib,
              .cancel = stop.flag(),
              .progress = [&line](std::size_t open) { line.show(open); },
              .jobs = settings.jobs,
              .small_proofs = options.evidence.has_value() || options.small_proofs || options.explain});
}

/// How far is looked, and of how many claims, into the result.
std::optional<CommandResult> plan(const CheckOptions& options, const Settings& settings,
                                  const std::vector<std::uint32_t>& claims, CheckResult& result) {
  const dsl::Model& model = *result.compiled.model;
  result.asked = claims.empty() ? model.claims.size() : claims.size();
  if (options.within) {
    const Reading<Bound> bound = choose_bound(model, options.within);
    if (!bound.value) return bad_option("--within", bound);
    result.bound = bound.value;
  } else {
    result.allowed = fmt::format("; up to {} for each claim{}", patience_words(settings),
                                 settings.total_timeout ? ", and no more than was allowed for all" : "");
  }
  return std::nullopt;
}

CommandResult answer_text(const CheckOptions& options, const Settings& settings, const CheckResult& result) {
  if (auto nothing = nothing_to_report(result, settings)) return std::move(*nothing);
  const Terminal terminal = choose_terminal(settings.terminal, look_around(1));
  if (options.explain) {
    const solver::Verdict& verdict = result.report->verdicts.front();
    const Page page = explain_page(result.compiled, verdict, explain(result.compiled, verdict), terminal);
    return {.output = render(page, terminal), .status = status_of(result)};
  }
  const ReportWishes wishes{{options.all_signals}, options.statistics};
  return {.output = render(report_page(result, wishes, terminal), terminal), .status = status_of(result)};
}

}  // namespace

CommandResult check_answer(const CheckOptions& options, const Settings& settings, const CheckResult& result) {
  if (!is_check_format(settings.format)) return answer_text(options, settings, result);
  return {.output = formatted_check(result, settings.format), .status = status_of(result)};
}

std::optional<CommandResult> nothing_to_report(const CheckResult& result, const Settings& settings) {
  const Terminal errors = choose_terminal(settings.terminal, look_around(2));
  if (!result.report) {
    return CommandResult{.errors = render(errors_page(result.compiled, errors), errors),
                         .status = status_of(result)};
  }
  if (!result.report->no_run_of) return std::nullopt;
  return CommandResult{.errors = render(contradiction_page(result, errors), errors),
                       .status = status_of(result)};
}

std::variant<CheckResult, CommandResult> checked(const CheckOptions& options, dsl::Compiled design,
                                                 const Settings& settings) {
  if (options.jobs && options.within) {
    return usage_error("--jobs and --within don't go together: a check tick by tick works on one thread",
                       "leave out one of them");
  }
  if (options.explain && (options.within || options.run || is_check_format(settings.format))) {
    return usage_error("--explain is about every run of any length, and for people to read",
                       fmt::format("leave out --within, --run and --format {}",
                                   is_check_format(settings.format) ? settings.format : "json"));
  }
  if (options.run && (options.within || options.evidence)) {
    return usage_error(
        "--run looks at the one run in the file, so --within and --evidence have nothing to do",
        "leave them out");
  }
  if (options.run && is_check_format(settings.format) && !settings.json) {
    return usage_error(
        fmt::format("--run looks at one run, and {} is a form for a whole check", settings.format),
        "leave out --run, or ask for json");
  }
  CheckResult result{.file = options.file, .compiled = std::move(design)};
  if (!result.compiled.model) return result;
  const dsl::Model& model = *result.compiled.model;
  std::vector<std::uint32_t> claims;
  if (auto problem = choose_claims(options, model, claims)) return std::move(*problem);
  if (options.explain && claims.size() != 1) {
    if (model.claims.size() != 1)
      return usage_error("--explain takes one claim at a time", "name it, for example --claim in_time");
    claims = {0};
  }
  if (options.run) return check_run(options, settings, result.compiled, std::move(claims));
  if (auto problem = plan(options, settings, claims, result)) return std::move(*problem);
  if (options.evidence) {
    if (auto problem = try_evidence_folder(*options.evidence)) return std::move(*problem);
  }
  result.report = options.within ? check_up_to(result.bound->ticks, claims, model, settings)
                                 : check_all_time(options, claims, model, settings);
  if (options.evidence) {
    if (auto problem = write_evidence(*options.evidence, result)) return std::move(*problem);
  }
  return result;
}

std::optional<CommandResult> plan_check(const CheckOptions& options, const Settings& settings,
                                        CheckResult& result) {
  if (!result.compiled.model) return std::nullopt;
  std::vector<std::uint32_t> claims;
  if (auto problem = choose_claims(options, *result.compiled.model, claims)) return problem;
  return plan(options, settings, claims, result);
}

CommandResult check(const CheckOptions& options) {
  auto read = read_settings(options, {"sarif", "junit"});
  if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
  const Settings& settings = std::get<Settings>(read);
  if (options.files.size() > 1 || options.shard) return check_many(options, settings);
  CheckOptions one = options;
  if (!options.files.empty()) one.file = options.files.front();
  auto done = checked(one, dsl::compile(source_name(one.file), file_reader(one.file)), settings);
  if (auto* problem = std::get_if<CommandResult>(&done)) return std::move(*problem);
  return check_answer(one, settings, std::get<CheckResult>(done));
}

}  // namespace detent::cli
