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
#include "cli/interrupt.hpp"
#include "cli/json.hpp"
#include "cli/progress.hpp"
#include "cli/quantities.hpp"
#include "cli/reader.hpp"
#include "cli/report_text.hpp"
#include "cli/terminal.hpp"
#include "solver/bounded.hpp"
#include "solver/forever.hpp"

namespace detent::cli {
namespace {

using dsl::Value;

/// How long each claim may take if --timeout does not say; only a design that is hard to decide needs it.
constexpr std::chrono::milliseconds usual_patience{60'000};

/// The options that need no design to be understood.
struct Settings {
  TerminalWishes terminal = {};
  std::optional<std::chrono::milliseconds> timeout = {};
  std::optional<std::size_t> memory_mib = {};
  unsigned jobs = std::clamp(std::thread::hardware_concurrency(), 1U, most_jobs);
  bool json = false;
};

template <class T>
using Outcome = std::variant<T, CommandResult>;

template <class T>
CommandResult bad_option(const char* option, const Reading<T>& reading) {
  return usage_error(fmt::format("{}: {}", option, reading.problem), reading.mend);
}

CommandResult bad_word(const char* option, const std::string& seen, const std::vector<std::string>& known) {
  const std::string near = dsl::nearest_name(seen, known);
  const std::string mend = near.empty() ? fmt::format("write one of: {}", fmt::join(known, ", "))
                                        : fmt::format("did you mean '{}'?", near);
  return usage_error(fmt::format("{}: there is no '{}'", option, seen), mend);
}

std::optional<CommandResult> read_words(const CheckOptions& options, Settings& settings) {
  if (options.format != "text" && options.format != "json") {
    return bad_word("--format", options.format, {"text", "json"});
  }
  settings.json = options.format == "json";
  if (options.color == "always") {
    settings.terminal.color = ColorWish::always;
  } else if (options.color == "never") {
    settings.terminal.color = ColorWish::never;
  } else if (options.color != "auto") {
    return bad_word("--color", options.color, {"auto", "always", "never"});
  }
  return std::nullopt;
}

std::optional<CommandResult> read_quantities(const CheckOptions& options, Settings& settings) {
  if (options.timeout) {
    const auto timeout = read_time(*options.timeout);
    if (!timeout.value) return bad_option("--timeout", timeout);
    settings.timeout = timeout.value;
  }
  if (options.memory) {
    const auto memory = read_memory(*options.memory);
    if (!memory.value) return bad_option("--memory", memory);
    settings.memory_mib = memory.value;
  }
  if (options.jobs) {
    const auto jobs = read_jobs(*options.jobs);
    if (!jobs.value) return bad_option("--jobs", jobs);
    settings.jobs = *jobs.value;
  }
  if (options.width) {
    const auto width = read_width(*options.width);
    if (!width.value) return bad_option("--width", width);
    settings.terminal.width = width.value;
  }
  return std::nullopt;
}

Outcome<Settings> read_settings(const CheckOptions& options) {
  Settings settings;
  if (auto problem = read_words(options, settings)) return std::move(*problem);
  if (auto problem = read_quantities(options, settings)) return std::move(*problem);
  if (options.jobs && options.within) {
    return usage_error("--jobs and --within don't go together: a check tick by tick works on one thread",
                       "leave out one of them");
  }
  return settings;
}

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
  const Interrupt interrupt;
  ProgressLine line;
  return solver::check_bounded(
      model, {.within = ticks,
              .claims = claims,
              .timeout = settings.timeout,
              .memory_mib = settings.memory_mib,
              .cancel = interrupt.flag(),
              .progress = [&line](const solver::Progress& progress) { line.show(progress); }});
}

solver::Report check_all_time(const CheckOptions& options, const std::vector<std::uint32_t>& claims,
                              const dsl::Model& model, const Settings& settings) {
  const Interrupt interrupt;
  ProgressLine line;
  return solver::check_forever(model, {.claims = claims,
                                       .timeout = settings.timeout.value_or(usual_patience),
                                       .memory_mib = settings.memory_mib,
                                       .cancel = interrupt.flag(),
                                       .progress = [&line](std::size_t open) { line.show(open); },
                                       .jobs = settings.jobs,
                                       .small_proofs = options.evidence.has_value()});
}

std::string patience_words(const Settings& settings) {
  return dsl::time_text(settings.timeout.value_or(usual_patience).count(), 1000);
}

CommandResult answer_text(const CheckOptions& options, const Settings& settings, const CheckResult& result) {
  CommandResult answer{.status = status_of(result)};
  const Terminal errors = choose_terminal(settings.terminal, look_around(2));
  if (!result.report) {
    answer.errors = render(errors_page(result.compiled, errors), errors);
  } else if (result.report->no_run_of) {
    answer.errors = render(contradiction_page(result, errors), errors);
  } else {
    const Terminal terminal = choose_terminal(settings.terminal, look_around(1));
    const ReportWishes wishes{{options.all_signals}, options.statistics};
    answer.output = render(report_page(result, wishes, terminal), terminal);
  }
  return answer;
}

CommandResult answer(const CheckOptions& options, const Settings& settings, const CheckResult& result) {
  if (!settings.json) return answer_text(options, settings, result);
  return {.output = json_text(result), .status = status_of(result)};
}

}  // namespace

CommandResult check(const CheckOptions& options) {
  Outcome<Settings> read = read_settings(options);
  if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
  Settings& settings = std::get<Settings>(read);
  CheckResult result{.file = options.file,
                     .compiled = dsl::compile(source_name(options.file), file_reader(options.file))};
  if (!result.compiled.model) return answer(options, settings, result);
  const dsl::Model& model = *result.compiled.model;
  std::vector<std::uint32_t> claims;
  if (auto problem = choose_claims(options, model, claims)) return std::move(*problem);
  Reading<Bound> bound;
  if (options.within) {
    bound = choose_bound(model, options.within);
    if (!bound.value) return bad_option("--within", bound);
  }
  if (options.evidence) {
    if (auto problem = try_evidence_folder(*options.evidence)) return std::move(*problem);
  }
  if (options.within) {
    result.bound = bound.value;
    result.report = check_up_to(bound.value->ticks, claims, model, settings);
  } else {
    result.allowed = fmt::format("; up to {} for each claim", patience_words(settings));
    result.report = check_all_time(options, claims, model, settings);
  }
  if (options.evidence) {
    if (auto problem = write_evidence(*options.evidence, result)) return std::move(*problem);
  }
  return answer(options, settings, result);
}

}  // namespace detent::cli
