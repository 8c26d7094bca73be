// The outline of a text: its declarations, with those of a part inside of it.
#include "cli/lsp/questions.hpp"

namespace detent::cli::lsp {
namespace {

using dsl::NamedThing;
using dsl::NameSort;

/// SymbolKind of LSP 3.17, as near as its words come.
int kind_of(const NamedThing& thing) {
  constexpr int class_ = 5, field = 8, enum_ = 10, function = 12, variable = 13, constant = 14, boolean = 17,
                object = 19, enum_member = 22, event = 24;
  switch (thing.sort) {
    case NameSort::part:
      return class_;
    case NameSort::use:
      return object;
    case NameSort::tunable:
      return constant;
    case NameSort::parameter:
      return field;
    case NameSort::claim:
    case NameSort::assumption:
      return function;
    case NameSort::position:
      return enum_member;
    case NameSort::element:
    case NameSort::broken:
      break;
  }
  if (thing.keyword == "switch" || thing.keyword == "stages") return enum_;
  if (thing.keyword == "button" || thing.keyword == "latch") return boolean;
  return thing.keyword == "pulse" ? event : variable;
}

bool is_shown(const NamedThing& thing, std::uint32_t file) {
  return thing.definition.file == file && thing.declaration != nullptr && thing.sort != NameSort::parameter &&
         thing.sort != NameSort::position;
}

Json nested(const Spot& spot, std::size_t index) {
  const NamedThing& thing = spot.design->names.things[index];
  Json json{{"name", thing.name},
            {"detail",
             thing.declaration->doc.empty() ? thing.keyword : thing.keyword + ": " + thing.declaration->doc},
            {"kind", kind_of(thing)},
            {"range", spot.design->range(thing.whole)},
            {"selectionRange", spot.design->range(thing.definition)}};
  if (thing.sort == NameSort::part) json["children"] = Json::array();
  return json;
}

Json flat(const Spot& spot, std::size_t index, const Client& client) {
  const auto& things = spot.design->names.things;
  const NamedThing& thing = things[index];
  Json json{{"name", thing.name},
            {"kind", kind_of(thing)},
            {"location", location(*spot.design, thing.whole, client)}};
  if (thing.part != dsl::no_thing) json["containerName"] = things[thing.part].name;
  return json;
}

}  // namespace

Json symbols(const Question& question) {
  const Spot& spot = question.spots.front();
  const auto& things = spot.design->names.things;
  Json all = Json::array();
  std::size_t open_part = dsl::no_thing;
  for (std::size_t index = 0; index < things.size(); ++index) {
    const NamedThing& thing = things[index];
    if (!is_shown(thing, spot.file)) continue;
    if (!question.client.nested_symbols) {
      all.push_back(flat(spot, index, question.client));
    } else if (thing.part != dsl::no_thing && thing.part == open_part) {
      all.back()["children"].push_back(nested(spot, index));
    } else if (thing.part == dsl::no_thing) {
      all.push_back(nested(spot, index));
      open_part = thing.sort == NameSort::part ? index : dsl::no_thing;
    }
  }
  return all;
}

}  // namespace detent::cli::lsp
