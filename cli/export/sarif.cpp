// What the standard asks for beyond its schema, and how it is kept (section numbers of SARIF 2.1.0):
//   3.14.23  `results` is there, and empty where there is nothing to say
//   3.20.14  executionSuccessful is false where no claim could be looked at
//   3.27.9   an inconclusive proof is of kind `open`
//   3.27.10  what is of another kind than `fail` has level `none`
//   3.30     lines and columns count from 1, the end column is exclusive; columnKind says in which units
#include "cli/export/sarif.hpp"

#include <fmt/format.h>

#include <map>

#include "cli/breakage.hpp"
#include "cli/export/sarif_flow.hpp"
#include "cli/export/sarif_place.hpp"
#include "cli/json_parts.hpp"
#include "cli/verdict_text.hpp"
#include "cli/warning_text.hpp"
#include "cli/words.hpp"
#include "solver/interpreter.hpp"

namespace detent::cli {
namespace {

using solver::Outcome;
using solver::Verdict;

constexpr const char* schema_name =
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

constexpr const char* caution =
    "A formal checker for safety interlocks. A proof is about the model, not the wiring: blade or propeller "
    "off "
    "on the bench.";

const char* kind_of(const Verdict& verdict) {
  if (verdict.outcome == Outcome::refuted) return "fail";
  if (verdict.outcome == Outcome::undecided) return "open";
  return verdict.outcome == Outcome::holds_up_to && verdict.vacuous ? "notApplicable" : "pass";
}

/// A design: a run of the program.
class RunOfProgram {
 public:
  explicit RunOfProgram(const CheckResult& result) : result_(result), sources_(result.compiled.sources) {}

  Json write() {
    for (const dsl::Diagnostic& diagnostic : result_.compiled.diagnostics) add_diagnostic(diagnostic);
    if (result_.report) add_report(*result_.report);
    Json driver{{"name", "detent"},
                {"fullDescription", sarif_message(caution)},
                {"version", DETENT_VERSION},
                {"rules", std::move(rules_)}};
    Json run{{"tool", {{"driver", std::move(driver)}}},
             {"invocations", {invocation()}},
             {"artifacts", artifacts()},
             {"columnKind", "utf16CodeUnits"},
             {"results", std::move(results_)}};
    return run;
  }

 private:
  // ---- rules ----
  /// A rule is made when the first result needs it.
  std::size_t rule(const std::string& id, const std::string& words, const std::string& full,
                   const char* level) {
    const auto [found, fresh] = rule_of_.emplace(id, rules_.size());
    if (fresh) {
      Json made{{"id", id}, {"shortDescription", sarif_message(words)}};
      if (!full.empty()) made["fullDescription"] = sarif_message(full);
      made["defaultConfiguration"] = {{"level", level}};
      rules_.push_back(std::move(made));
    }
    return found->second;
  }

  Json& add(std::size_t rule, const char* kind, const char* level, const std::string& message,
            const dsl::Place& place) {
    Json one{
        {"ruleId", rules_[rule]["id"]},      {"ruleIndex", rule},         {"kind", kind}, {"level", level},
        {"message", sarif_message(message)}, {"locations", Json::array()}};
    if (auto location = sarif_location(sources_, place)) one["locations"].push_back(std::move(*location));
    results_.push_back(std::move(one));
    return results_.back();
  }

  void relate(Json& result, const dsl::Place& place, const std::string& message) const {
    auto location = sarif_location(sources_, place, message);
    if (!location) return;
    (*location)["id"] = result.contains("relatedLocations") ? result["relatedLocations"].size() + 1 : 1;
    result["relatedLocations"].push_back(std::move(*location));
  }

  // ---- the text ----
  void add_diagnostic(const dsl::Diagnostic& diagnostic) {
    const std::string code(dsl::code_name(diagnostic.code));
    const char* level = diagnostic.severity() == dsl::Severity::error ? "error" : "warning";
    std::string words = code;
    for (char& c : words) c = c == '_' ? ' ' : c;
    const std::string mend = diagnostic.mend.empty() ? "" : fmt::format("\nmend: {}", diagnostic.mend);
    Json& made = add(rule("text." + code, "Text of a design: " + words, "", level), "fail", level,
                     diagnostic.message + mend, diagnostic.place);
    for (const dsl::Note& note : diagnostic.notes) relate(made, note.place, note.text);
  }

  // ---- the check ----
  void add_report(const solver::Report& report) {
    if (report.no_run_of) return add_contradiction(report);
    for (const Verdict& verdict : report.verdicts) add_verdict(verdict);
    for (const Finding& finding : findings(result_)) {
      Json& made = add(rule(fmt::format("check.{}", finding.kind), finding.title, "", "warning"), "fail",
                       "warning", finding.words, finding.place);
      if (finding.other) relate(made, *finding.other, "the other line");
    }
  }

  void add_contradiction(const solver::Report& report) {
    const dsl::Model& model = *result_.compiled.model;
    const dsl::Place nowhere{static_cast<std::uint32_t>(sources_.size()), 0, 0};
    const dsl::Place first =
        report.contradicting.empty() ? nowhere : model.constraints[report.contradicting.front()].place;
    Json& made = add(rule("check.contradicting", "Assumptions that contradict each other", "", "error"),
                     "fail", "error",
                     fmt::format("No run of {} obeys everything that is assumed, so no claim means anything.",
                                 ticks_words(*report.no_run_of, model.tick_us)),
                     first);
    for (const std::uint32_t index : report.contradicting) {
      relate(made, model.constraints[index].place, model.constraints[index].name);
    }
  }

  void add_verdict(const Verdict& verdict) {
    const dsl::Model& model = *result_.compiled.model;
    const dsl::Claim& claim = model.claims[verdict.claim];
    const std::size_t its =
        rule("claim." + claim.name, claim.doc.empty() ? claim.text : claim.doc, claim.text, "error");
    const bool has_run = verdict.run && verdict.run->ticks() > 0;
    std::string message = fmt::format("{}: {}.", claim.name, verdict_words(model, verdict).text);
    if (const std::string remark = remark_words(model, verdict); !remark.empty()) message += " " + remark;
    if (has_run) message += " " + break_words(model, claim, solver::replay(model.circuit, *verdict.run));
    const char* kind = kind_of(verdict);
    Json& made = add(its, kind, verdict.outcome == Outcome::refuted ? "error" : "none", message, claim.place);
    if (has_run) made["codeFlows"] = {sarif_flow(result_.compiled, claim, *verdict.run)};
    made["properties"] = {{"outcome", outcome_word(verdict.outcome)},
                          {"limit", limit_word(verdict.limit)},
                          {"forAllTime", verdict.proof.has_value()},
                          {"vacuous", verdict.vacuous}};
  }

  // ---- what was done ----
  [[nodiscard]] Json invocation() const {
    const Status status = status_of(result_);
    Json made{{"executionSuccessful", status != Status::input_wrong}, {"exitCode", static_cast<int>(status)}};
    if (status == Status::input_wrong) {
      const char* why = result_.report ? "No claim was decided: the assumptions contradict each other."
                                       : "Nothing was checked: the text has errors.";
      made["toolExecutionNotifications"] = {{{"level", "error"}, {"message", sarif_message(why)}}};
    }
    return made;
  }

  [[nodiscard]] Json artifacts() const {
    Json all = Json::array();
    for (std::uint32_t file = 0; file < sources_.size(); ++file) {
      all.push_back({{"location", {{"uri", uri_of(sources_.name(file))}, {"index", file}}},
                     {"length", sources_.text(file).size()},
                     {"roles", {"analysisTarget"}},
                     {"encoding", "UTF-8"}});
    }
    return all;
  }

  const CheckResult& result_;
  const dsl::Sources& sources_;
  std::map<std::string, std::size_t> rule_of_;
  Json rules_ = Json::array(), results_ = Json::array();
};

}  // namespace

std::string sarif_text(const std::vector<const CheckResult*>& results) {
  Json runs = Json::array();
  for (const CheckResult* result : results) runs.push_back(RunOfProgram(*result).write());
  return json_print({{"$schema", schema_name}, {"version", "2.1.0"}, {"runs", std::move(runs)}});
}

}  // namespace detent::cli
