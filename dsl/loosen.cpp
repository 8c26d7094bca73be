#include "dsl/loosen.hpp"

#include <utility>

#include "dsl/walk.hpp"

namespace detent::dsl {
namespace {

Term begins_at(const Element& element, std::size_t index, Value value) {
  Term hand{.op = TermOp::hand, .type = element.type, .place = element.place, .element = index};
  if (std::holds_alternative<LinkBody>(element.body)) {
    hand.op = TermOp::lost;
  }
  Term rest = constant_term(value, element.type, element.place);
  return condition_term(TermOp::equal, {std::move(hand), std::move(rest)}, element.place);
}

}  // namespace

std::size_t assumption_count(const Design& design) {
  return design.assumptions.size() + design.at_power_up.size();
}

std::string assumption_name(const Design& design, std::size_t index) {
  return index < design.assumptions.size() ? design.assumptions[index].name : "at power_up";
}

Place assumption_place(const Design& design, std::size_t index) {
  const std::size_t assumed = design.assumptions.size();
  return index < assumed ? design.assumptions[index].place : design.at_power_up[index - assumed].place;
}

Design without_assumption(const Design& design, std::size_t index) {
  Design result = design;
  const std::size_t assumed = design.assumptions.size();
  if (index < assumed) {
    result.assumptions.erase(result.assumptions.begin() + static_cast<std::ptrdiff_t>(index));
  } else {
    result.at_power_up.erase(result.at_power_up.begin() + static_cast<std::ptrdiff_t>(index - assumed));
  }
  return result;
}

Design from_rest(const Design& design, const std::map<std::string, Value>& rest) {
  Design result = design;
  result.edges = EdgeRule::ignored;
  for (std::size_t index = 0; index < design.elements.size(); ++index) {
    const auto found = rest.find(design.elements[index].name);
    if (is_input(design.elements[index]) && found != rest.end()) {
      result.at_power_up.push_back(
          {design.elements[index].place, begins_at(design.elements[index], index, found->second)});
    }
  }
  return result;
}

}  // namespace detent::dsl
