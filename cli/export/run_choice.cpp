#include "cli/export/run_choice.hpp"

#include <fmt/format.h>

#include <string>
#include <vector>

#include "cli/run_check.hpp"
#include "cli/run_text.hpp"
#include "cli/verdict_text.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using solver::Outcome;
using solver::Verdict;

std::vector<const Verdict*> with_run(const CheckResult& result, Outcome outcome) {
  std::vector<const Verdict*> found;
  for (const Verdict& verdict : result.report->verdicts) {
    if (verdict.outcome == outcome && verdict.run && verdict.run->ticks() > 0) found.push_back(&verdict);
  }
  return found;
}

CommandResult no_run(const CheckResult& result) {
  const dsl::Model& model = *result.compiled.model;
  const auto& verdicts = result.report->verdicts;
  const std::string what =
      verdicts.size() == 1
          ? fmt::format("claim '{}' has no run to show: {}", model.claims[verdicts.front().claim].name,
                        verdict_words(model, verdicts.front()).text)
          : fmt::format("no claim has a run to show: {}", summary_words(model, *result.report));
  CommandResult made = usage_error(
      what, "name a claim that is refuted or possible, or give a run of your own with --run NAME.run");
  if (status_of(result) == Status::undecided) made.status = Status::undecided;
  return made;
}

}  // namespace

std::variant<const Verdict*, CommandResult> run_to_draw(const CheckResult& result) {
  std::vector<const Verdict*> found = with_run(result, Outcome::refuted);
  if (found.empty()) found = with_run(result, Outcome::shown);
  if (found.empty()) return no_run(result);
  if (found.size() == 1) return found.front();
  constexpr std::size_t most = 8;
  std::vector<std::string> names;
  for (const Verdict* verdict : found) names.push_back(result.compiled.model->claims[verdict->claim].name);
  return usage_error(fmt::format("this form holds one run, and {} claims have one: {}", found.size(),
                                 list_words(names, most)),
                     fmt::format("name the claim, for example --claim {}", names.front()));
}

std::variant<solver::Run, CommandResult> run_of_file(const CheckOptions& options,
                                                     const dsl::Compiled& compiled) {
  auto file = read_run_file("--run", *options.run);
  if (auto* problem = std::get_if<CommandResult>(&file)) return std::move(*problem);
  const dsl::Model& model = *compiled.model;
  const Reading<HandRun> run = read_run(model, std::get<std::string>(file), options.run->ends_with(".json"));
  if (!run.value) return usage_error(fmt::format("--run {}: {}", *options.run, run.problem), run.mend);
  const RunJudgement judgement = judge(model, *run.value, {}, {});
  if (judgement.unkept) return unkept_result(options, compiled, *judgement.unkept);
  return as_run(*run.value);
}

}  // namespace detent::cli
