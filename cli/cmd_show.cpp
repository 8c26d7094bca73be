// Listings for people who want to see what became of their text.
#include "cli/cmd_show.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "cli/errors_text.hpp"
#include "cli/json.hpp"
#include "cli/json_parts.hpp"
#include "cli/page.hpp"
#include "cli/reader.hpp"
#include "cli/settings.hpp"
#include "cli/terminal.hpp"
#include "cli/words.hpp"
#include "dsl/front.hpp"

namespace detent::cli {
namespace {

using dsl::Model;
using dsl::Signal;
using dsl::SignalRole;
using dsl::SortKind;

const char* role_words(SignalRole role) {
  switch (role) {
    case SignalRole::hand:
      return "hand";
    case SignalRole::element:
      return "element";
    case SignalRole::output:
      return "output";
  }
  return "";
}

/// "-100 % to 100 %", "safe | run", "off | on".
std::string values_words(const Model& model, const Signal& signal) {
  if (signal.sort.kind != SortKind::level) return fmt::format("{}", fmt::join(signal.sort.positions, " | "));
  const dsl::Range& range = model.circuit.node(signal.node).range;
  return fmt::format("{} to {}", dsl::to_text(range.low, signal.sort), dsl::to_text(range.high, signal.sort));
}

using Row = std::vector<std::string>;

std::vector<Row> signal_rows(const Model& model, const dsl::Sources& sources) {
  std::vector<Row> rows{{"name", "keyword", "role", "values", "place", "sentence"}};
  for (const Signal& signal : model.signals) {
    rows.push_back({signal.name, signal.element, role_words(signal.role), values_words(model, signal),
                    sources.size() == 0 ? "" : place_words(sources, signal.place), signal.doc});
  }
  return rows;
}

std::string table(const std::vector<Row>& rows) {
  std::vector<std::size_t> widths(rows.front().size(), 0);
  for (const Row& row : rows) {
    for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], columns(row[i]));
  }
  std::string text;
  for (const Row& row : rows) {
    std::string line;
    for (std::size_t i = 0; i < row.size(); ++i) {
      line += row[i] + std::string(widths[i] - columns(row[i]) + 2, ' ');
    }
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + '\n';
  }
  return text;
}

std::string circuit_text(const Model& model) {
  std::map<dsl::NodeId, std::string> names;
  for (const Signal& signal : model.signals) names.try_emplace(signal.node, signal.name);
  for (const dsl::Claim& claim : model.claims) names.try_emplace(claim.watch, "claim " + claim.name);
  return dsl::to_text(model.circuit, [&](dsl::NodeId node) {
    const auto found = names.find(node);
    return found == names.end() ? std::string() : found->second;
  });
}

std::string show_json(const std::string& file, const dsl::Compiled& compiled) {
  Json json = json_head(compiled.model ? Status::all_hold : Status::input_wrong, file, compiled);
  if (!compiled.model) return json_print(json);
  const Model& model = *compiled.model;
  json["signals"] = json_signals(model, compiled.sources);
  json["ranges"] = Json::array();
  for (const Signal& signal : model.signals) {
    const dsl::Range& range = model.circuit.node(signal.node).range;
    if (signal.sort.kind == SortKind::level)
      json["ranges"].push_back({{"signal", signal.name}, {"low", range.low}, {"high", range.high}});
  }
  json["claims"] = Json::array();
  for (const dsl::Claim& claim : model.claims) {
    json["claims"].push_back({{"claim", claim.name},
                              {"doc", claim.doc},
                              {"text", claim.text},
                              {"place", json_place(compiled.sources, claim.place)},
                              {"possible", claim.possible}});
  }
  return json_print(json);
}

CommandResult failure(const dsl::Compiled& compiled) {
  const Terminal terminal = choose_terminal({}, look_around(2));
  return {.errors = render(errors_page(compiled, terminal), terminal), .status = Status::input_wrong};
}

std::string listing(const dsl::Compiled& compiled, const std::string& what) {
  if (what == "tree") return dsl::to_text(compiled.tree);
  if (what == "circuit") return circuit_text(*compiled.model);
  return table(signal_rows(*compiled.model, compiled.sources));
}

}  // namespace

CommandResult show(const ShowOptions& options) {
  const std::vector<std::string> known{"tree", "circuit", "signals"};
  if (std::find(known.begin(), known.end(), options.what) == known.end()) {
    const std::string near = dsl::nearest_name(options.what, known);
    return usage_error(
        fmt::format("show: there is no listing '{}'", options.what),
        near.empty() ? "write one of: tree, circuit, signals" : fmt::format("did you mean '{}'?", near));
  }
  if (options.format != "text" && options.format != "json")
    return bad_word("--format", options.format, {"text", "json"});
  if (options.format == "json" && options.what != "signals") {
    return usage_error(fmt::format("--format json lists signals and claims, not the {}", options.what),
                       "leave out one of them");
  }
  const dsl::Compiled compiled = dsl::compile(source_name(options.file), file_reader(options.file));
  if (options.format == "json") {
    return {.output = show_json(options.file, compiled),
            .status = compiled.model ? Status::all_hold : Status::input_wrong};
  }
  if (!compiled.model) return failure(compiled);
  const bool unicode = choose_terminal({}, look_around(1)).unicode;
  return {.output = printable_lines(listing(compiled, options.what), unicode)};
}

}  // namespace detent::cli
