#include "cli/cmd_gaps.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/gap_study.hpp"
#include "cli/gaps_text.hpp"
#include "cli/gaps_words.hpp"
#include "cli/progress.hpp"
#include "cli/reader.hpp"
#include "cli/stop.hpp"
#include "cli/study_json.hpp"
#include "cli/study_page.hpp"
#include "dsl/slip_list.hpp"

namespace detent::cli {
namespace {

/// Many more than can be asked about in a day; each of them is a line of the page.
constexpr std::size_t most_changes = 100'000;

/// Gaps are what a script looks for: those of the claims, a claim that is refuted, an odd power-up.
Status status_of(const GapStudy& study) {
  if (study.without.no_run_of) return Status::input_wrong;
  const auto said = [&](solver::Outcome outcome) {
    return std::any_of(study.without.verdicts.begin(), study.without.verdicts.end(),
                       [&](const solver::Verdict& verdict) { return verdict.outcome == outcome; });
  };
  const auto power_up = [&](PowerUpFinding::Fate fate) {
    return std::any_of(study.power_up.begin(), study.power_up.end(),
                       [&](const PowerUpFinding& one) { return one.fate == fate; });
  };
  const bool assumed = std::any_of(study.assumptions.begin(), study.assumptions.end(), [](const auto& one) {
    return one.fate == AssumptionFinding::Fate::undecided;
  });
  const bool found = count_of(study, Slip::Fate::gap) > 0 || said(solver::Outcome::refuted) ||
                     power_up(PowerUpFinding::Fate::only_oddly);
  const bool open = count_of(study, Slip::Fate::undecided) > 0 || said(solver::Outcome::undecided) ||
                    power_up(PowerUpFinding::Fate::undecided) || assumed || !study.without.looked_at;
  return found ? Status::refuted : (open ? Status::undecided : Status::all_hold);
}

}  // namespace

std::optional<CommandResult> try_gaps(const dsl::Compiled& compiled) {
  if (compiled.model->claims.empty()) return nothing_claimed("nobody would notice any change of it");
  const std::size_t changes = dsl::list_slips(*compiled.design, compiled.sources).size();
  if (changes <= most_changes) return std::nullopt;
  return usage_error(fmt::format("gaps: this design can be changed in {} small ways; up to {} are looked at",
                                 changes, most_changes),
                     "make a design of its own of the part in question");
}

GapStudy studied_gaps(const dsl::Compiled& compiled, const StudySettings& settings) {
  const Stop stop(settings);
  ProgressLine line;
  return study_gaps(*compiled.design, compiled.sources,
                    {.timeout = settings.timeout,
                     .memory_mib = settings.memory_mib,
                     .cancel = stop.flag(),
                     .jobs = settings.jobs},
                    [&line](std::size_t done, std::size_t all) { line.show(done, all, "changed design"); });
}

CommandResult gaps(const StudyOptions& options) {
  auto read = read_study_settings(options);
  if (auto* problem = std::get_if<CommandResult>(&read)) return std::move(*problem);
  const StudySettings& settings = std::get<StudySettings>(read);
  const dsl::Compiled compiled = dsl::compile(source_name(options.file), file_reader(options.file));
  if (!compiled.model) {
    return no_study(compiled, settings, gaps_json(options.file, compiled, nullptr, Status::input_wrong));
  }
  if (auto problem = try_gaps(compiled)) return std::move(*problem);
  const GapStudy result = studied_gaps(compiled, settings);
  const Status status = status_of(result);
  if (settings.json) return {.output = gaps_json(options.file, compiled, &result, status), .status = status};
  if (result.without.no_run_of) return contradiction(compiled, *result.without.no_run_of, settings);
  const Terminal terminal = choose_terminal(settings.terminal, look_around(1));
  return {.output = render(gaps_page(compiled, result, allowed_words(settings), terminal), terminal),
          .status = status};
}

}  // namespace detent::cli
