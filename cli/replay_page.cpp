#include <fmt/format.h>

#include <algorithm>

#include "cli/heading.hpp"
#include "cli/replay_report.hpp"
#include "cli/time_text.hpp"
#include "cli/words.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Signal;

constexpr const char* indent = "    ";

/// A fine level or a position as people read it.
std::string value_words(const Signal& signal, std::int64_t value) {
  if (signal.sort.kind != dsl::SortKind::level) return dsl::to_text(value, signal.sort);
  dsl::Sort fine = signal.sort;
  for (std::int64_t unit = fine_per_step; unit > 1; unit /= 10) ++fine.decimals;
  return dsl::to_text(value, fine);
}

std::vector<std::string> names_of(const Model& model, const std::vector<LogColumn>& columns) {
  std::vector<std::string> names;
  for (const LogColumn& column : columns) {
    const std::string& name = model.signals[column.signal].name;
    const bool same = column.header.starts_with(name);
    names.push_back(same ? name : fmt::format("{} (column '{}')", name, column.header));
  }
  return names;
}

void add_named(Page& page, const std::string& what, const std::vector<std::string>& names,
               const Terminal& terminal) {
  constexpr std::size_t most = 20;
  if (!names.empty()) add_paragraph(page, what, list_words(names, most), terminal);
}

std::string separator_word(char separator) {
  return separator == ',' ? "commas" : separator == ';' ? "semicolons" : "tabs";
}

std::vector<std::string> still_words(const Model& model, const LogColumns& columns) {
  std::vector<std::string> words;
  for (const auto& [signal, value] : columns.still)
    words.push_back(state_words(model.signals[signal], value));
  return words;
}

/// "1 % for jet, exactly for lamp".
std::string level_tolerance_words(const ReplayResult& result) {
  const Model& model = *result.compiled.model;
  std::vector<std::string> parts;
  for (const Compared& one : result.replay.compared) {
    const Signal& signal = model.signals[one.signal];
    const std::int64_t tolerance = result.wishes.level_tolerance[one.signal];
    if (signal.sort.kind != dsl::SortKind::level || tolerance == 0) continue;
    parts.push_back(fmt::format("{} for {}", value_words(signal, tolerance), signal.name));
  }
  return parts.empty() ? "exactly" : "within " + list_words(parts);
}

void add_what_was_read(Page& page, const ReplayResult& result, const Terminal& terminal) {
  const Model& model = *result.compiled.model;
  const Replay& replay = result.replay;
  add_paragraph(page, "",
                fmt::format("Held against: {}, {} behind the header, {} from the first to the last, {}.",
                            result.log_file, count_words(replay.rows, "row"),
                            nanoseconds_words(replay.length), ticks_words(replay.ticks, model.tick_us)),
                terminal);
  add_paragraph(page, "  read: ",
                fmt::format("fields parted by {}; time from the column '{}'",
                            separator_word(replay.separator), replay.columns.time_header),
                terminal);
  add_named(page, "  moved by the log: ", names_of(model, replay.columns.inputs), terminal);
  add_named(page, "  taken to stay: ", still_words(model, replay.columns), terminal);
  add_named(page, "  compared: ", names_of(model, replay.columns.outputs), terminal);
  add_named(page, "  not in the log, so not compared: ", replay.columns.not_logged, terminal);
  add_named(page, "  not in the design, so not looked at: ", replay.columns.unknown, terminal);
  add_paragraph(
      page, "",
      fmt::format(
          "The same means: within {} in time, and levels {}. The first row is power-up; what a row says "
          "holds until the next; the model sees a movement at its next tick.",
          nanoseconds_words(result.wishes.tolerance), level_tolerance_words(result)),
      terminal, Style::faint);
  if (replay.together > 0) {
    add_paragraph(
        page, "",
        fmt::format("{} with movements lay within the same tick as one before, and the model sees those "
                    "together: the order in which they came is not looked at.",
                    count_words(replay.together, "row")),
        terminal, Style::faint);
  }
  page.push_back({});
}

void add_parting(Page& page, const ReplayResult& result, const Compared& one, const Terminal& terminal) {
  const Model& model = *result.compiled.model;
  const Signal& signal = model.signals[one.signal];
  const Parting& parting = *one.parting;
  page.push_back(
      {{"THEY PART", Style::bad},
       {"  "},
       {signal.name, Style::strong},
       {fmt::format("  row {}, {} after the first row", parting.row, nanoseconds_words(parting.time))}});
  if (!signal.doc.empty()) add_paragraph(page, indent, fmt::format("\"{}\"", signal.doc), terminal);
  add_paragraph(page, indent + std::string("the log says:   "), value_words(signal, parting.log), terminal);
  add_paragraph(page, indent + std::string("the model says: "), value_words(signal, parting.model), terminal);
  add_paragraph(page, indent,
                fmt::format("The one does not show within {} what the other does.",
                            nanoseconds_words(result.wishes.tolerance)),
                terminal);
}

void add_comparison(Page& page, const ReplayResult& result, const Terminal& terminal) {
  const Replay& replay = result.replay;
  const Model& model = *result.compiled.model;
  const Compared* first = first_parting(replay);
  std::vector<std::string> later, same;
  for (const Compared& one : replay.compared) {
    const std::string& name = model.signals[one.signal].name;
    if (!one.parting) {
      same.push_back(name);
    } else if (&one != first) {
      later.push_back(
          fmt::format("{} in row {}, at {}", name, one.parting->row, nanoseconds_words(one.parting->time)));
    }
  }
  if (first != nullptr) add_parting(page, result, *first, terminal);
  if (!later.empty()) add_paragraph(page, "Then part: ", list_words(later), terminal);
  if (!same.empty())
    add_paragraph(page, "The same in the whole log: ", list_words(same), terminal, Style::good);
  if (replay.compared.empty()) {
    add_paragraph(page, "",
                  "Nothing is compared: the log has no column of an output or element of the design.",
                  terminal, Style::unsure);
  }
  page.push_back({});
}

}  // namespace

Status status_of(const ReplayResult& result) {
  if (!all_is_well(*result.compiled.model, result.replay)) return Status::refuted;
  return result.replay.interrupted ? Status::undecided : Status::all_hold;
}

Page replay_page(const ReplayResult& result, const Terminal& terminal) {
  const Model& model = *result.compiled.model;
  Page page;
  page.push_back(heading_of(result.compiled));
  add_what_was_read(page, result, terminal);
  if (result.replay.interrupted) {
    add_paragraph(page, "", "You stopped it: only the rows so far were looked at.", terminal, Style::unsure);
  }
  add_comparison(page, result, terminal);
  if (const auto& unkept = result.replay.unkept) {
    add_paragraph(
        page, "NOT AS ASSUMED  ",
        fmt::format(
            "at {} (tick {}) the hands did what the design takes for granted never to happen: {}. What "
            "claims say from there on means little.",
            seconds_words(unkept->tick, model.tick_us), unkept->tick,
            assumption_words(model, result.compiled.sources, unkept->constraint)),
        terminal, Style::bad);
    page.push_back({});
  }
  add_paragraph(page, "", "The claims, asked of the model as the log's hands moved it:", terminal);
  add_page(page, claims_page(model, result.compiled.sources, result.replay.claims, terminal));
  add_paragraph(page, "", "A log that agrees is one run and no proof: blade or propeller off on the bench.",
                terminal, Style::faint);
  return page;
}

}  // namespace detent::cli
