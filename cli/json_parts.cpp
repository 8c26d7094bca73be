#include "cli/json_parts.hpp"

namespace detent::cli {

using dsl::Place;
using dsl::Sources;
using solver::Limit;
using solver::Outcome;

namespace {

Json json_diagnostic(const dsl::Diagnostic& diagnostic, const Sources& sources) {
  Json notes = Json::array();
  for (const dsl::Note& note : diagnostic.notes) {
    notes.push_back({{"text", note.text}, {"place", json_place(sources, note.place)}});
  }
  return {{"severity", diagnostic.severity() == dsl::Severity::error ? "error" : "warning"},
          {"code", std::string(dsl::code_name(diagnostic.code))},
          {"message", diagnostic.message},
          {"mend", diagnostic.mend},
          {"place", json_place(sources, diagnostic.place)},
          {"notes", std::move(notes)}};
}

}  // namespace

Json json_place(const Sources& sources, const Place& place) {
  if (place.file >= sources.size()) return nullptr;
  const dsl::LineColumn begin = sources.line_column(place);
  const dsl::LineColumn end = sources.line_column({place.file, place.end, place.end});
  return {{"file", sources.name(place.file)},
          {"line", begin.line},
          {"column", begin.column},
          {"end_line", end.line},
          {"end_column", end.column}};
}

Json json_diagnostics(const dsl::Compiled& compiled) {
  Json all = Json::array();
  for (const dsl::Diagnostic& diagnostic : compiled.diagnostics) {
    all.push_back(json_diagnostic(diagnostic, compiled.sources));
  }
  return all;
}

const char* outcome_word(Outcome outcome) {
  switch (outcome) {
    case Outcome::proved:
      return "proved";
    case Outcome::holds_up_to:
      return "proved_up_to";
    case Outcome::refuted:
      return "refuted";
    case Outcome::shown:
      return "possible";
    case Outcome::undecided:
      return "undecided";
  }
  return "";
}

const char* limit_word(Limit limit) {
  switch (limit) {
    case Limit::none:
      return "none";
    case Limit::ticks:
      return "ticks";
    case Limit::time:
      return "time";
    case Limit::memory:
      return "memory";
    case Limit::interrupted:
      return "interrupted";
    case Limit::solver_gave_up:
      return "solver_gave_up";
    case Limit::run_too_long:
      return "run_too_long";
  }
  return "";
}

Json json_statistics(const solver::Statistics& statistics) {
  return {{"solver_calls", statistics.solver_calls},
          {"replayed_runs", statistics.replayed_runs},
          {"unrolled_ticks", statistics.unrolled_ticks},
          {"seconds", statistics.seconds}};
}

}  // namespace detent::cli
