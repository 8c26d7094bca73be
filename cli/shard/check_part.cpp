#include "cli/shard/check_part.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/cmd_check.hpp"
#include "cli/export/check_format.hpp"
#include "cli/json.hpp"
#include "cli/json_parts.hpp"
#include "cli/page.hpp"
#include "cli/report_text.hpp"
#include "cli/shard/shard_values.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;

constexpr dsl::Value most_ticks_known = 1'000'000'000'000;

// ---- The page ----

std::string summary(const Checks& checks) {
  const auto count = [&](Status status) {
    return std::count_if(checks.begin(), checks.end(),
                         [&](const auto& one) { return status_of(*one) == status; });
  };
  std::string words = count_words(checks.size(), "design") + ":";
  const auto add = [&](Status status, const char* what) {
    if (const auto number = count(status); number > 0) {
      words += fmt::format("{} {} {}", words.back() == ':' ? "" : ",", number, what);
    }
  };
  add(Status::all_hold, "of which every claim holds");
  add(Status::refuted, "with a claim refuted");
  add(Status::undecided, "undecided");
  add(Status::input_wrong, "that can't be checked");
  return words;
}

CommandResult as_text(const CheckOptions& options, const Settings& settings, const Checks& checks) {
  CommandResult all{.status = status_of(checks)};
  for (const auto& one : checks) {
    const CommandResult result = check_answer(options, settings, *one);
    if (!result.output.empty()) all.output += result.output + "\n";
    if (!result.errors.empty()) all.errors += (all.errors.empty() ? "" : "\n") + result.errors;
  }
  const Terminal terminal = choose_terminal(settings.terminal, look_around(1));
  Page page;
  add_paragraph(page, "", summary(checks), terminal, style_of(all.status));
  all.output += render(page, terminal);
  return all;
}

CommandResult as_json(const Checks& checks) {
  Json json = json_head(status_of(checks));
  Json designs = Json::array();
  for (const auto& one : checks) designs.push_back(Json::parse(json_text(*one)));
  json["designs"] = std::move(designs);
  return {.output = json_print(json), .status = status_of(checks)};
}

// ---- A part ----

Json json_raw_report(const Model& model, const solver::Report& report) {
  Json json{{"verdicts", Json::array()}, {"overlaps", Json::array()}, {"never_change", report.never_change}};
  for (const solver::Verdict& verdict : report.verdicts) {
    json["verdicts"].push_back(json_raw_verdict(model, verdict));
  }
  for (const solver::OverlapFinding& one : report.overlaps) {
    Json overlap{{"overlap", one.overlap}};
    if (one.run) overlap["run"] = json_raw_run(*one.run);
    json["overlaps"].push_back(std::move(overlap));
  }
  if (report.no_run_of) {
    json["no_run_of"] = *report.no_run_of;
    json["contradicting"] = report.contradicting;
  }
  json["within"] = report.within;
  json["statistics"] = json_statistics(report.statistics);
  return json;
}

std::vector<std::uint32_t> read_indices(const Strict& json, std::size_t count) {
  std::vector<std::uint32_t> all;
  for (const Strict& one : json.items()) all.push_back(static_cast<std::uint32_t>(one.index(count)));
  return all;
}

solver::Statistics read_statistics(const Strict& json) {
  json.only({"solver_calls", "replayed_runs", "unrolled_ticks", "seconds"});
  return {.solver_calls = json.at("solver_calls").counter(),
          .replayed_runs = json.at("replayed_runs").counter(),
          .unrolled_ticks = json.at("unrolled_ticks").whole(0, most_ticks_known),
          .seconds = json.at("seconds").seconds()};
}

solver::OverlapFinding read_overlap(const Strict& json, const Model& model) {
  json.only({"overlap", "run"});
  solver::OverlapFinding finding{
      .overlap = static_cast<std::uint32_t>(json.at("overlap").index(model.overlaps.size()))};
  if (const auto run = json.maybe("run")) {
    finding.run = read_raw_run(*run, model);
    confirm_raw_run(*run, model, *finding.run, model.overlaps[finding.overlap].both);
  }
  return finding;
}

/// Which claims were asked about, as check_forever and check_bounded answer: all, or those of --claim, in
/// order.
void check_claims(const Strict& json, const solver::Report& report, std::size_t asked) {
  bool ascending = true;
  for (std::size_t index = 1; index < report.verdicts.size(); ++index) {
    ascending = ascending && report.verdicts[index - 1].claim < report.verdicts[index].claim;
  }
  if (!ascending || report.verdicts.size() != asked)
    json.refuse("has not one verdict for each claim, in order");
}

solver::Report read_report(const Strict& json, const Model& model, std::size_t asked) {
  json.only({"verdicts", "overlaps", "never_change", "no_run_of", "contradicting", "within", "statistics"});
  solver::Report report;
  const ClaimNames names(model);
  for (const Strict& one : json.at("verdicts").items()) {
    report.verdicts.push_back(read_raw_verdict(one, names, [&]() -> const Model& { return model; }));
  }
  for (const Strict& one : json.at("overlaps").items()) report.overlaps.push_back(read_overlap(one, model));
  report.never_change = read_indices(json.at("never_change"), model.signals.size());
  if (const auto ticks = json.maybe("no_run_of")) {
    report.no_run_of = ticks->whole(1, most_ticks_known);
    if (model.constraints.empty()) ticks->refuse("is of a design that assumes nothing");
    report.contradicting = read_indices(json.at("contradicting"), model.constraints.size());
  } else {
    check_claims(json.at("verdicts"), report, asked);
  }
  report.within = json.at("within").whole(0, most_ticks_known);
  for (const solver::Verdict& verdict : report.verdicts) {
    if (verdict.outcome == solver::Outcome::holds_up_to && verdict.ticks > report.within) {
      json.at("verdicts").refuse("say more than what was looked at");
    }
  }
  report.statistics = read_statistics(json.at("statistics"));
  return report;
}

}  // namespace

Status status_of(const Checks& checks) {
  for (const Status status : {Status::input_wrong, Status::refuted, Status::undecided}) {
    const bool any = std::any_of(checks.begin(), checks.end(),
                                 [&](const auto& one) { return one && status_of(*one) == status; });
    if (any) return status;
  }
  return Status::all_hold;
}

CommandResult checks_answer(const CheckOptions& options, const Settings& settings, const Checks& checks) {
  if (checks.size() == 1) return check_answer(options, settings, *checks.front());
  if (settings.json) return as_json(checks);
  if (!is_check_format(settings.format)) return as_text(options, settings, checks);
  std::vector<const CheckResult*> results;
  for (const auto& one : checks) results.push_back(&*one);
  return {.output = formatted_checks(results, settings.format), .status = status_of(checks)};
}

Json checks_part(const Checks& checks) {
  Json reports = Json::array();
  for (const auto& one : checks) {
    if (!one) continue;
    reports.push_back(one->report ? json_raw_report(*one->compiled.model, *one->report) : Json(nullptr));
  }
  return {{"reports", std::move(reports)}};
}

void join_checks(Checks& planned, const PartOf& part) {
  part.json.only({"reports"});
  const std::vector<Strict> given = part.json.at("reports").items();
  std::size_t at = 0;
  for (std::size_t index = 0; index < planned.size(); ++index) {
    if (!part.shard.has(index)) continue;
    CheckResult& result = *planned[index];
    if (at == given.size()) part.json.at("reports").refuse("a design is missing");
    const Strict& json = given[at++];
    if (result.compiled.model.has_value() == json.json().is_null()) {
      json.refuse(json.json().is_null() ? "is missing" : "is about a text that is wrong");
    }
    if (!result.compiled.model) continue;
    result.report = read_report(json, *result.compiled.model, result.asked);
  }
  if (at < given.size()) given[at].refuse("is a design too many");
}

}  // namespace detent::cli
