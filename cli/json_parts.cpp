#include "cli/json_parts.hpp"

namespace detent::cli {
namespace {

Json json_diagnostic(const dsl::Diagnostic& diagnostic, const dsl::Sources& sources) {
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

Json json_place(const dsl::Sources& sources, const dsl::Place& place) {
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

const char* outcome_word(solver::Outcome outcome) {
  switch (outcome) {
    case solver::Outcome::proved:
      return "proved";
    case solver::Outcome::holds_up_to:
      return "proved_up_to";
    case solver::Outcome::refuted:
      return "refuted";
    case solver::Outcome::shown:
      return "possible";
    case solver::Outcome::undecided:
      return "undecided";
  }
  return "";
}

const char* limit_word(solver::Limit limit) {
  switch (limit) {
    case solver::Limit::none:
      return "none";
    case solver::Limit::ticks:
      return "ticks";
    case solver::Limit::time:
      return "time";
    case solver::Limit::memory:
      return "memory";
    case solver::Limit::interrupted:
      return "interrupted";
    case solver::Limit::solver_gave_up:
      return "solver_gave_up";
    case solver::Limit::run_too_long:
      return "run_too_long";
  }
  return "";
}

}  // namespace detent::cli
