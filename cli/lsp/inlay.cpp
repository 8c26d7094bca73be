// A word behind each claim that says what has become of it; more is in its hover.
#include "cli/lsp/questions.hpp"
#include "cli/lsp/verdict_lookup.hpp"
#include "cli/verdict_text.hpp"

namespace detent::cli::lsp {
namespace {

/// Behind the line on which the claim's name stands.
Json hint_at(const Analysis& design, const dsl::Place& place, const std::string& label,
             const std::string& more) {
  const std::string_view text = design.compiled.sources.text(place.file);
  const LineMap& lines = design.lines[place.file];
  const std::size_t end = lines.line_end(text, lines.line_of(place.begin));
  return {{"position", json_of(design.position(place.file, static_cast<std::uint32_t>(end)))},
          {"label", label},
          {"paddingLeft", true},
          {"tooltip", more}};
}

bool is_asked_for(const Json& hint, const Json& params) {
  if (!has(params, "/range")) return true;
  const Position at = read_position(hint["position"]);
  const Json& range = member(params, "range");
  return read_position(member(range, "start")) <= at && at <= read_position(member(range, "end"));
}

}  // namespace

Json inlay_hints(const Question& question) {
  Json all = Json::array();
  for (const Spot& spot : question.spots) {
    if (!spot.design->compiled.model) continue;
    const dsl::Model& model = *spot.design->compiled.model;
    for (const dsl::Claim& claim : model.claims) {
      if (claim.place.file != spot.file) continue;
      const std::string label = verdict_label(*spot.open, claim);
      if (label.empty()) continue;
      const bool of_part = claim.name.find('.') != std::string::npos;
      Json hint =
          hint_at(*spot.design, claim.place, of_part ? claim.name + ": " + label : label, model_caution);
      if (is_asked_for(hint, question.params)) all.push_back(std::move(hint));
    }
  }
  return all;
}

}  // namespace detent::cli::lsp
