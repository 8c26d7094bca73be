#include "cli/run_check.hpp"

#include <fmt/format.h>

#include <numeric>

#include "cli/heading.hpp"
#include "cli/json_parts.hpp"
#include "cli/reader.hpp"
#include "cli/run_json.hpp"
#include "cli/run_judge.hpp"
#include "cli/run_text.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;

Page run_page(const CheckOptions& options, const dsl::Compiled& compiled, std::string_view text,
              const HandRun& run, const RunJudgement& judgement, const Terminal& terminal) {
  const Model& model = *compiled.model;
  Page page;
  page.push_back(heading_of(compiled));
  add_paragraph(page, "",
                fmt::format("Looked at: the one run in {}, {}. That says nothing of any other run.",
                            *options.run, ticks_words(run.ticks, model.tick_us)),
                terminal);
  if (lacks_tick(text)) add_paragraph(page, "", no_tick_words, terminal);
  if (const auto choice = model.power_up_choice) {
    const dsl::Signal& edges = model.signals[*choice];
    add_paragraph(
        page, "",
        fmt::format("The design leaves open whether edges at power-up count; in this run they are {}.",
                    dsl::to_text(run.rows.front().inputs[edges.input], edges.sort)),
        terminal);
  }
  page.push_back({});
  add_page(page, claims_page(model, compiled.sources, judgement.claims, terminal));
  add_paragraph(page, "", "This is about the model, not the wiring: blade or propeller off on the bench.",
                terminal, Style::faint);
  return page;
}

}  // namespace

CommandResult unkept_result(const CheckOptions& options, const dsl::Compiled& compiled,
                            const Unkept& unkept) {
  const Model& model = *compiled.model;
  return usage_error(
      fmt::format(
          "--run {}: at {}, tick {}, the run does what the design takes for granted never to happen: {}",
          *options.run, seconds_words(unkept.tick, model.tick_us), unkept.tick,
          assumption_words(model, compiled.sources, unkept.constraint)),
      "let the run keep to it, or take it out of the design: claims mean nothing of such a run");
}

std::variant<std::string, CommandResult> read_run_file(const std::string& option, const std::string& path) {
  dsl::FileText file = file_reader("")(path);
  if (!file.text) {
    return usage_error(fmt::format("{}: {} {}", option, path, file.problem),
                       "name a file with a run: NAME.run or NAME.run.json (cli/formats.md)");
  }
  return std::move(*file.text);
}

CommandResult check_run(const CheckOptions& options, const Settings& settings, const dsl::Compiled& compiled,
                        std::vector<std::uint32_t> claims) {
  const Model& model = *compiled.model;
  auto file = read_run_file("--run", *options.run);
  if (auto* problem = std::get_if<CommandResult>(&file)) return std::move(*problem);
  const Reading<HandRun> run = read_run(model, std::get<std::string>(file), options.run->ends_with(".json"));
  if (!run.value) return usage_error(fmt::format("--run {}: {}", *options.run, run.problem), run.mend);
  if (claims.empty()) {
    claims.resize(model.claims.size());
    std::iota(claims.begin(), claims.end(), 0U);
  }
  const Terminal terminal = choose_terminal(settings.terminal, look_around(1));
  const RunJudgement judgement = judge(model, *run.value, claims, terminal);
  if (judgement.unkept) return unkept_result(options, compiled, *judgement.unkept);
  const Status status = any_broken(model, judgement.claims) ? Status::refuted : Status::all_hold;
  if (!settings.json) {
    return {.output = render(
                run_page(options, compiled, std::get<std::string>(file), *run.value, judgement, terminal),
                terminal),
            .status = status};
  }
  Json json = json_head(status, options.file, compiled);
  json["run_file"] = *options.run;
  json["ticks"] = run.value->ticks;
  json["claims"] = json_claims(model, compiled.sources, judgement.claims);
  return {.output = json_print(json), .status = status};
}

}  // namespace detent::cli
