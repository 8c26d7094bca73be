#include "cli/lsp/diagnostics.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "cli/lsp/run_places.hpp"
#include "cli/page.hpp"
#include "cli/verdict_text.hpp"
#include "cli/words.hpp"
#include "solver/interpreter.hpp"

namespace detent::cli::lsp {
namespace {

using dsl::Model;
using solver::Outcome;
using solver::Verdict;

/// DiagnosticSeverity and DiagnosticTag of LSP 3.17.
enum class Level : int { error = 1, warning = 2, information = 3, hint = 4 };
constexpr int unnecessary = 1;

class Sayer {
 public:
  Sayer(const Analysis& design, const Client& client, DiagnosticsByPath& all)
      : design_(design), client_(client), all_(all) {}

  /// Notes become places of their own, or lines of the message where the client knows none.
  Json& say(const dsl::Place& place, Level level, const std::string& code, std::string message,
            const std::vector<dsl::Note>& notes = {}) {
    Json related = Json::array();
    for (const dsl::Note& note : notes) {
      if (!client_.related)
        message += fmt::format("\n{}: {}", place_words(design_.compiled.sources, note.place), note.text);
      related.push_back({{"location",
                          {{"uri", client_.uri(design_.path_of_file(note.place.file))},
                           {"range", design_.range(note.place)}}},
                         {"message", printable_lines(note.text, true)}});
    }
    Json json{{"range", design_.range(place)},
              {"severity", static_cast<int>(level)},
              {"code", code},
              {"source", "detent"},
              {"message", printable_lines(message, true)}};
    if (client_.related && !related.empty()) json["relatedInformation"] = std::move(related);
    return all_[design_.path_of_file(place.file)].emplace_back(std::move(json));
  }

 private:
  const Analysis& design_;
  const Client& client_;
  DiagnosticsByPath& all_;
};

/// As everywhere where people read it: with hyphens.
std::string code_of(const dsl::Diagnostic& diagnostic) {
  std::string code(dsl::code_name(diagnostic.code));
  std::replace(code.begin(), code.end(), '_', '-');
  return code;
}

std::string with_mend(const dsl::Diagnostic& diagnostic) {
  return diagnostic.mend.empty() ? diagnostic.message : diagnostic.message + "\nmend: " + diagnostic.mend;
}

std::vector<dsl::Note> notes_of(const Model& model, const dsl::Claim& claim, const solver::Run& run) {
  std::vector<dsl::Note> notes;
  for (RunPlace& one : places_of_run(model, claim, run)) notes.push_back({one.place, std::move(one.text)});
  return notes;
}

/// What is proved is told quietly: by an inlay hint where the client has them.
std::optional<Level> level_of(const Verdict& verdict, const Client& client) {
  if (verdict.outcome == Outcome::refuted) return Level::error;
  if (verdict.outcome == Outcome::undecided || verdict.vacuous) return Level::warning;
  return client.inlay_hints ? std::nullopt : std::optional(Level::hint);
}

std::string code_of(const Verdict& verdict) {
  if (verdict.outcome == Outcome::refuted) return "refuted";
  if (verdict.outcome == Outcome::undecided) return "undecided";
  if (verdict.vacuous) return "says-nothing";
  return verdict.outcome == Outcome::shown ? "possible" : "proved";
}

void say_verdict(const Model& model, const Verdict& verdict, const Client& client, Sayer& sayer) {
  const auto level = level_of(verdict, client);
  if (!level) return;
  const dsl::Claim& claim = model.claims[verdict.claim];
  std::string message = fmt::format("{}: {}", claim.name, verdict_words(model, verdict).text);
  if (!claim.doc.empty()) message += fmt::format("\n\"{}\"", claim.doc);
  if (const std::string remark = remark_words(model, verdict); !remark.empty()) message += "\n" + remark;
  std::vector<dsl::Note> notes;
  if (verdict.outcome == Outcome::refuted && verdict.run && verdict.run->ticks() > 0) {
    notes = notes_of(model, claim, *verdict.run);
    message += "\n" + notes.back().text;
  }
  sayer.say(claim.place, *level, code_of(verdict), message, notes);
}

void say_contradiction(const Model& model, const solver::Report& report, Sayer& sayer) {
  const std::string what =
      fmt::format("no run of {} obeys everything that is assumed, so no claim means anything",
                  ticks_words(*report.no_run_of, model.tick_us));
  std::vector<dsl::Note> others;
  for (const std::uint32_t index : report.contradicting) {
    const dsl::Constraint& constraint = model.constraints[index];
    others.push_back(
        {constraint.place, fmt::format("'{}' is one of those that leave none", constraint.name)});
  }
  if (others.empty()) {
    sayer.say({}, Level::error, "no-run", what);
    return;
  }
  for (const dsl::Note& one : others) {
    sayer.say(one.place, Level::error, "no-run", what + "\nmend: one of these must go or ask for less",
              others);
  }
}

void say_overlaps(const Model& model, const solver::Report& report, Sayer& sayer) {
  for (const solver::OverlapFinding& finding : report.overlaps) {
    if (!finding.run) continue;
    const dsl::Overlap& overlap = model.overlaps[finding.overlap];
    sayer.say(overlap.second, Level::warning, "overlapping-moves",
              fmt::format("two lines of '{}' can apply at once: '{}' and '{}'; the first one wins",
                          overlap.stages, overlap.first_text, overlap.second_text),
              {{overlap.first, "the first of them"}});
  }
}

void say_never_changes(const Model& model, const solver::Report& report, Sayer& sayer) {
  for (const std::uint32_t index : report.never_change) {
    const dsl::Signal& signal = model.signals[index];
    if (model.circuit.is_constant(signal.node)) continue;  // told when the text was read
    sayer.say(signal.place, Level::warning, "never-changes",
              fmt::format("'{}' never changes in any run, however long", signal.name));
  }
}

}  // namespace

void add_text_diagnostics(const Analysis& design, const Client& client, DiagnosticsByPath& all) {
  for (std::uint32_t file = 0; file < design.compiled.sources.size(); ++file) {
    all.try_emplace(design.path_of_file(file), Json::array());
  }
  Sayer sayer(design, client, all);
  for (const dsl::Diagnostic& diagnostic : design.compiled.diagnostics) {
    const Level level = diagnostic.severity() == dsl::Severity::error ? Level::error : Level::warning;
    Json& json =
        sayer.say(diagnostic.place, level, code_of(diagnostic), with_mend(diagnostic), diagnostic.notes);
    if (client.unnecessary_tag && diagnostic.code == dsl::Code::unused)
      json["tags"] = Json::array({unnecessary});
  }
}

void add_verdicts(const Analysis& design, const solver::Report& report, const Client& client,
                  DiagnosticsByPath& all) {
  const Model& model = *design.compiled.model;
  Sayer sayer(design, client, all);
  if (report.no_run_of) return say_contradiction(model, report, sayer);
  for (const Verdict& verdict : report.verdicts) say_verdict(model, verdict, client, sayer);
  say_overlaps(model, report, sayer);
  say_never_changes(model, report, sayer);
}

}  // namespace detent::cli::lsp
