#include "dsl/name_scopes.hpp"

namespace detent::dsl {
namespace {

/// Claims and assumptions have names of their own, and a position is called by its switch.
bool can_be_called(NameSort sort) {
  return sort != NameSort::claim && sort != NameSort::assumption && sort != NameSort::position;
}

bool is_for_all(NameSort sort) {
  return sort == NameSort::part || sort == NameSort::tunable || sort == NameSort::broken;
}

std::size_t look_up(const std::map<std::pair<std::size_t, std::string>, std::size_t>& names,
                    std::size_t place, const std::string& name) {
  const auto found = names.find({place, name});
  return found == names.end() ? no_thing : found->second;
}

}  // namespace

NameScopes::NameScopes(const std::vector<NamedThing>& things) : things_(things) {
  // Of two with one name the first counts, and one that could be read before one that could not.
  for (const bool broken : {false, true}) {
    for (std::size_t index = 0; index < things.size(); ++index) {
      const NamedThing& thing = things[index];
      if ((thing.sort == NameSort::broken) != broken) continue;
      if (thing.sort == NameSort::position) positions_.try_emplace({thing.owner, thing.name}, index);
      if (can_be_called(thing.sort)) declared_.try_emplace({thing.part, thing.name}, index);
    }
  }
}

std::size_t NameScopes::declared(std::size_t part, const std::string& name) const {
  return look_up(declared_, part, name);
}

std::size_t NameScopes::position(std::size_t owner, const std::string& name) const {
  return look_up(positions_, owner, name);
}

std::size_t NameScopes::seen(std::size_t part, const std::string& name) const {
  const std::size_t here = declared(part, name);
  if (here != no_thing || part == no_thing) return here;
  const std::size_t outside = declared(no_thing, name);
  return outside != no_thing && is_for_all(things_[outside].sort) ? outside : no_thing;
}

std::size_t NameScopes::part_used(std::size_t use) const {
  if (use == no_thing || things_[use].sort != NameSort::use || things_[use].declaration == nullptr)
    return no_thing;
  const auto* body = std::get_if<UseDeclaration>(&things_[use].declaration->body);
  const std::size_t part = body == nullptr ? no_thing : seen(things_[use].part, body->part.text);
  return part != no_thing && things_[part].sort == NameSort::part ? part : no_thing;
}

std::size_t NameScopes::inside(std::size_t use, const std::string& name) const {
  const std::size_t part = part_used(use);
  return part == no_thing ? no_thing : seen(part, name);
}

std::size_t NameScopes::find(std::size_t part, const std::string& name) const {
  std::size_t dot = name.find('.');
  std::size_t thing = seen(part, name.substr(0, dot));
  while (thing != no_thing && dot != std::string::npos) {
    const std::size_t begin = dot + 1;
    dot = name.find('.', begin);
    thing = inside(thing, name.substr(begin, dot == std::string::npos ? dot : dot - begin));
  }
  return thing;
}

}  // namespace detent::dsl
