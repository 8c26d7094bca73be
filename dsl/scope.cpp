// Looking names up.
#include "dsl/scope.hpp"

#include <fmt/format.h>

#include "dsl/grammar.hpp"

namespace detent::dsl {
namespace {

const Bound* in(const Scope& scope, const std::string& name) {
  const auto entry = scope.names.find(name);
  return entry == scope.names.end() ? nullptr : &entry->second;
}

bool is_broken(const Bound* bound) {
  return bound != nullptr && std::holds_alternative<BrokenBinding>(bound->binding);
}

bool is_for_all(const Bound& bound) {
  return std::holds_alternative<PartBinding>(bound.binding) ||
         std::holds_alternative<TunableBinding>(bound.binding) || is_broken(&bound);
}

void add_names(const Scope& scope, const std::string& before, std::vector<std::string>& names) {
  for (const auto& [name, bound] : scope.names) {
    names.push_back(before + name);
    const auto* use = std::get_if<UseBinding>(&bound.binding);
    if (use != nullptr && use->inner != nullptr && before.empty()) {
      add_names(*use->inner, name + ".", names);
    }
  }
}

}  // namespace

const Bound* find(const Scope& scope, const std::string& name) {
  const std::size_t dot = name.find('.');
  const std::string head = name.substr(0, dot);
  const Bound* bound = in(scope, head);
  if (bound == nullptr && scope.file != nullptr) {
    bound = in(*scope.file, head);
    bound = bound != nullptr && is_for_all(*bound) ? bound : nullptr;
  }
  if (bound == nullptr || dot == std::string::npos) {
    return bound;
  }
  const auto* use = std::get_if<UseBinding>(&bound->binding);
  return use == nullptr || use->inner == nullptr ? nullptr : find(*use->inner, name.substr(dot + 1));
}

namespace {

/// A near name is looked for among all that there are; where hardly any is right, that would take for ever.
std::string near_name(const Scope& scope, const std::string& name, CheckContext& context) {
  constexpr std::size_t worth_mending = 100;
  if (++context.unknown_names > worth_mending) return "";
  std::vector<std::string> names;
  add_names(scope, "", names);
  return nearest_name(name, names);
}

}  // namespace

const Bound* resolve(const Scope& scope, const std::string& name, const Place& place, CheckContext& context) {
  if (const Bound* bound = find(scope, name)) {
    bound->used = true;
    return is_broken(bound) ? nullptr : bound;
  }
  const Bound* head = find(scope, name.substr(0, name.find('.')));
  const auto* use = head == nullptr ? nullptr : std::get_if<UseBinding>(&head->binding);
  const bool part_was_wrong = use != nullptr && use->inner == nullptr;
  // What a part was about to declare is known by its last name only.
  const Scope& file = scope.file != nullptr ? *scope.file : scope;
  if (part_was_wrong || is_broken(head) || is_broken(in(file, name.substr(name.rfind('.') + 1)))) {
    return nullptr;
  }
  if (scope.file != nullptr && in(*scope.file, name) != nullptr) {
    context.report(Code::unknown_name, place, fmt::format("'{}' stands outside this part", name),
                   "a part sees only what it is given: add it to the part's arguments");
    return nullptr;
  }
  if (longest_segment(name) > longest_name) return nullptr;  // the reader has said so
  const std::string near = near_name(scope, name, context);
  context.report(
      Code::unknown_name, place, fmt::format("nothing here is called '{}'", name),
      near.empty() ? "declare it, or use a name that is declared" : fmt::format("did you mean '{}'?", near));
  return nullptr;
}

}  // namespace detent::dsl
