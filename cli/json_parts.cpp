#include "cli/json_parts.hpp"

#include "solver/version.hpp"

namespace detent::cli {

using dsl::Place;
using dsl::Sources;
using solver::Limit;
using solver::Outcome;

namespace {

constexpr int schema_version = 1;

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

Json json_head(Status status) {
  return {{"schema_version", schema_version},
          {"detent_version", DETENT_VERSION},
          {"solver_version", solver::solver_version()},
          {"exit_status", static_cast<int>(status)}};
}

Json json_head(Status status, const std::string& file, const dsl::Compiled& compiled) {
  Json json = json_head(status);
  json["file"] = file;
  json["diagnostics"] = json_diagnostics(compiled);
  if (compiled.model) {
    json["title"] = compiled.model->title;
    json["tick_us"] = compiled.model->tick_us;
  }
  return json;
}

std::string json_print(const Json& json) {
  constexpr int indent = 2;
  return json.dump(indent, ' ', false, Json::error_handler_t::replace) + '\n';
}

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
