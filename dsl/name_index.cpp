// Two passes over the tree: everything that is declared first, then every mention (name_mentions.cpp).
#include "dsl/name_index.hpp"

#include <algorithm>
#include <array>
#include <tuple>
#include <utility>

#include "dsl/name_mentions.hpp"
#include "dsl/name_scopes.hpp"

namespace detent::dsl {
namespace {

/// By the order of DeclarationBody.
constexpr std::array<const char*, std::variant_size_v<DeclarationBody>> keywords{
    "design",   "tick",   "channel", "switch",  "button", "link",   "signal", "pulse",
    "delay",    "linger", "latch",   "counter", "keep",   "stages", "output", "tunable",
    "power_up", "at",     "claim",   "assume",  "part",   "use",    "include"};

NameSort sort_of(const Declaration& declaration) {
  const auto is = [&](const char* word) {
    return keywords[declaration.body.index()] == std::string_view(word);
  };
  if (is("claim")) return NameSort::claim;
  if (is("assume")) return NameSort::assumption;
  if (is("part")) return NameSort::part;
  if (is("use")) return NameSort::use;
  return is("tunable") ? NameSort::tunable : NameSort::element;
}

constexpr std::array<const char*, 4> parameter_kinds{"condition", "level", "count", "duration"};

class Declarer {
 public:
  explicit Declarer(std::vector<NamedThing>& things) : things_(things) {}

  void add_all(const std::vector<Declaration>& declarations, std::size_t part) {
    for (const Declaration& declaration : declarations) {
      if (!declaration.name.text.empty()) add(declaration, part);
    }
  }

 private:
  void add(const Declaration& declaration, std::size_t part) {
    const std::size_t index = things_.size();
    things_.push_back({.name = declaration.name.text,
                       .sort = sort_of(declaration),
                       .keyword = keywords[declaration.body.index()],
                       .definition = declaration.name.place,
                       .whole = declaration.place,
                       .part = part,
                       .declaration = &declaration});
    if (const auto* body = std::get_if<SwitchDeclaration>(&declaration.body))
      add_positions(body->positions, index);
    if (const auto* body = std::get_if<StagesDeclaration>(&declaration.body))
      add_positions(body->stages, index);
    if (const auto* body = std::get_if<PartDeclaration>(&declaration.body)) {
      for (const Parameter& parameter : body->parameters) {
        add_inner(parameter.name, NameSort::parameter,
                  parameter_kinds[static_cast<std::size_t>(parameter.kind)], index);
        things_.back().part = index;
      }
      add_all(body->body, index);
    }
  }

  void add_positions(const std::vector<Name>& names, std::size_t owner) {
    for (const Name& name : names) {
      add_inner(name, NameSort::position, things_[owner].keyword, owner);
      things_.back().owner = owner;
    }
  }

  void add_inner(const Name& name, NameSort sort, const std::string& keyword, std::size_t outer) {
    const Declaration* declaration = things_[outer].declaration;
    const std::size_t part = things_[outer].part;
    things_.push_back({.name = name.text,
                       .sort = sort,
                       .keyword = keyword,
                       .definition = name.place,
                       .whole = declaration->place,
                       .part = part,
                       .declaration = declaration});
  }

  std::vector<NamedThing>& things_;
};

/// A place is only that of a name if the name stands there: of a part without an end it is the whole part.
void add_broken(const std::vector<Name>& broken, const Sources& sources, std::vector<NamedThing>& things) {
  for (const Name& name : broken) {
    const bool stands_there = name.place.file < sources.size() && sources.text(name.place) == name.text;
    if (!stands_there || name.text == "tick" || name.text == "design" || name.text == "power_up") continue;
    things.push_back({.name = name.text,
                      .sort = NameSort::broken,
                      .keyword = {},
                      .definition = name.place,
                      .whole = name.place});
  }
}

auto order(const Place& place) {
  return std::tuple(place.file, place.begin, place.end);
}

/// One place means one thing: where a text is read in two ways the first one stands.
void sort_out(std::vector<Mention>& mentions) {
  std::stable_sort(mentions.begin(), mentions.end(), [](const Mention& one, const Mention& other) {
    return order(one.place) < order(other.place);
  });
  const auto same = [](const Mention& one, const Mention& other) {
    return one.place.file == other.place.file && other.place.begin < one.place.end;
  };
  mentions.erase(std::unique(mentions.begin(), mentions.end(), same), mentions.end());
}

}  // namespace

NameIndex index_names(const Tree& tree, const Sources& sources) {
  NameIndex index;
  Declarer(index.things).add_all(tree.declarations, no_thing);
  add_broken(tree.broken, sources, index.things);
  for (std::size_t thing = 0; thing < index.things.size(); ++thing) {
    index.mentions.push_back({index.things[thing].definition, thing, true});
  }
  add_mentions(tree, sources, index);
  sort_out(index.mentions);
  return index;
}

const Mention* NameIndex::at(std::uint32_t file, std::uint32_t offset) const {
  const auto after = std::upper_bound(mentions.begin(), mentions.end(), std::pair(file, offset),
                                      [](const auto& wanted, const Mention& mention) {
                                        return wanted < std::pair(mention.place.file, mention.place.begin);
                                      });
  if (after == mentions.begin()) return nullptr;
  const Mention& last = *std::prev(after);
  return last.place.file == file && offset <= last.place.end ? &last : nullptr;
}

std::vector<Place> NameIndex::places_of(std::size_t thing) const {
  std::vector<Place> places;
  for (const Mention& mention : mentions) {
    if (mention.thing == thing) places.push_back(mention.place);
  }
  return places;
}

std::size_t NameIndex::part_at(std::uint32_t file, std::uint32_t offset) const {
  std::size_t found = no_thing;
  for (std::size_t index = 0; index < things.size(); ++index) {
    const NamedThing& thing = things[index];
    if (thing.sort != NameSort::part || thing.whole.file != file) continue;
    if (thing.whole.begin < offset && offset < thing.whole.end) found = index;
  }
  return found;
}

std::vector<std::size_t> NameIndex::seen_in(std::size_t part) const {
  const NameScopes scopes(things);
  std::vector<std::size_t> seen;
  for (std::size_t index = 0; index < things.size(); ++index) {
    if (scopes.seen(part, things[index].name) == index) seen.push_back(index);
  }
  return seen;
}

std::vector<std::size_t> NameIndex::offered_by(std::size_t part) const {
  const NameScopes scopes(things);
  std::vector<std::size_t> offered;
  for (std::size_t index = 0; index < things.size(); ++index) {
    if (things[index].part == part && scopes.declared(part, things[index].name) == index)
      offered.push_back(index);
  }
  return offered;
}

std::vector<std::size_t> NameIndex::positions_of(std::size_t element) const {
  std::vector<std::size_t> positions;
  for (std::size_t index = 0; index < things.size(); ++index) {
    if (things[index].owner == element && element != no_thing) positions.push_back(index);
  }
  return positions;
}

std::size_t NameIndex::part_used(std::size_t use) const {
  return NameScopes(things).part_used(use);
}

std::size_t NameIndex::find(std::size_t part, const std::string& name) const {
  return NameScopes(things).find(part, name);
}

}  // namespace detent::dsl
