// The check, step by step: options, text, bound and claims, engine, page. Each step can end it with a
// message.
#include "cli/cmd_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <variant>

#include "cli/check_result.hpp"
#include "cli/errors_text.hpp"
#include "cli/interrupt.hpp"
#include "cli/json.hpp"
#include "cli/progress.hpp"
#include "cli/quantities.hpp"
#include "cli/reader.hpp"
#include "cli/report_text.hpp"
#include "cli/terminal.hpp"
#include "solver/bounded.hpp"

namespace detent::cli {
namespace {

/// The options that need no design to be understood.
struct Settings {
  TerminalWishes terminal = {};
  solver::BoundedOptions engine = {};
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
    settings.engine.timeout = timeout.value;
  }
  if (options.memory) {
    const auto memory = read_memory(*options.memory);
    if (!memory.value) return bad_option("--memory", memory);
    settings.engine.memory_mib = memory.value;
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
  return settings;
}

CommandResult unknown_claim(const std::string& name, const dsl::Model& model) {
  std::vector<std::string> names;
  for (const dsl::Claim& claim : model.claims) names.push_back(claim.name);
  const std::string near = dsl::nearest_name(name, names);
  std::string mend = "this design has no claims";
  if (!near.empty()) {
    mend = fmt::format("did you mean '{}'?", near);
  } else if (!names.empty()) {
    names.resize(std::min<std::size_t>(names.size(), 10));
    mend = fmt::format("the claims are: {}{}", fmt::join(names, ", "), model.claims.size() > 10 ? ", …" : "");
  }
  return usage_error(fmt::format("--claim: no claim is called '{}'", name), mend);
}

std::optional<CommandResult> choose_claims(const CheckOptions& options, const dsl::Model& model,
                                           std::vector<std::uint32_t>& chosen) {
  for (const std::string& name : options.claims) {
    const auto found = std::find_if(model.claims.begin(), model.claims.end(),
                                    [&](const dsl::Claim& claim) { return claim.name == name; });
    if (found == model.claims.end()) return unknown_claim(name, model);
    const auto index = static_cast<std::uint32_t>(found - model.claims.begin());
    if (std::find(chosen.begin(), chosen.end(), index) == chosen.end()) chosen.push_back(index);
  }
  std::sort(chosen.begin(), chosen.end());
  return std::nullopt;
}

solver::Report run_engine(const dsl::Model& model, solver::BoundedOptions engine) {
  const Interrupt interrupt;
  ProgressLine line;
  engine.cancel = interrupt.flag();
  engine.progress = [&line](const solver::Progress& progress) { line.show(progress); };
  return solver::check_bounded(model, engine);
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
  const Reading<Bound> bound = choose_bound(model, options.within);
  if (!bound.value) return bad_option("--within", bound);
  result.bound = bound.value;
  settings.engine.within = bound.value->ticks;
  if (auto problem = choose_claims(options, model, settings.engine.claims)) return std::move(*problem);
  result.report = run_engine(model, settings.engine);
  return answer(options, settings, result);
}

}  // namespace detent::cli
