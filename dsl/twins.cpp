#include "dsl/twins.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "dsl/walk.hpp"

namespace detent::dsl {
namespace {

using Twins = std::map<std::size_t, std::size_t>;  ///< original -> twin

/// A signal or a timer. Whatever can be on or off by its own past (a latch, a counter, stages) is the
/// machine.
bool tells_of_what_it_is_made_of(const ElementBody& body) {
  return std::holds_alternative<ValueBody>(body) || std::holds_alternative<DelayBody>(body) ||
         std::holds_alternative<LingerBody>(body) || std::holds_alternative<PulseBody>(body);
}

/// Follows what signals and timers are made of.
class HandNames {
 public:
  explicit HandNames(const Design& design)
      : design_(design), state_(design.elements.size(), State::unknown) {}

  bool is_made_of_hands(std::size_t index) {
    const Element& element = design_.elements[index];
    if (is_input(element)) {
      return true;
    }
    if (state_[index] == State::unknown) {
      state_[index] = State::no;  // while it is looked at: what is made of itself is not made of hands
      const std::set<std::size_t> named = named_by(element);
      const bool plain = tells_of_what_it_is_made_of(element.body) && !element.output && !named.empty();
      const bool made = plain && std::all_of(named.begin(), named.end(),
                                             [&](std::size_t one) { return is_made_of_hands(one); });
      state_[index] = made ? State::yes : State::no;
    }
    return state_[index] == State::yes;
  }

 private:
  enum class State { unknown, yes, no };
  const Design& design_;
  std::vector<State> state_;
};

void redirect_claims(Design& design, const Twins& twins) {
  for (auto* claims : {&design.claims, &design.assumptions}) {
    for (CheckedClaim& claim : *claims) {
      redirect(claim.first, twins);
      if (claim.second) {
        redirect(*claim.second, twins);
      }
    }
  }
  for (PowerUpCondition& condition : design.at_power_up) {
    redirect(condition.condition, twins);
  }
}

/// Adds a twin of each of these elements, right behind it.
Twins add_twins(const Design& original, const std::set<std::size_t>& of, const std::string& prefix,
                bool hidden, Design& design) {
  Twins twins;
  for (const std::size_t index : original.order) {
    if (of.contains(index)) {
      Element twin = original.elements[index];
      twin.name = prefix + twin.name;
      twin.hidden = twin.hidden || hidden;
      twin.output = false;
      twins[index] = insert_behind(design, index, std::move(twin));
    }
  }
  for (const auto& [index, twin] : twins) {
    for (Term* term : terms_of(design.elements[twin].body)) {
      redirect(*term, twins);
    }
  }
  return twins;
}

std::set<std::size_t> elements_of(const std::vector<Alteration>& alterations) {
  std::set<std::size_t> elements;
  for (const Alteration& one : alterations) {
    elements.insert(one.element);
  }
  return elements;
}

std::set<std::size_t> named_by_claims(const Design& design) {
  std::set<std::size_t> named;
  const auto look = [&](const Term& term) {
    if (term.op == TermOp::reference) {
      named.insert(term.element);
    }
  };
  for (const CheckedClaim& claim : design.claims) {
    visit(claim.first, look);
    if (claim.second) {
      visit(*claim.second, look);
    }
  }
  return named;
}

std::set<std::size_t> observed(const Design& design) {
  std::set<std::size_t> outputs;
  for (std::size_t index = 0; index < design.elements.size(); ++index) {
    if (design.elements[index].output) {
      outputs.insert(index);
    }
  }
  return outputs.empty() ? named_by_claims(design) : outputs;
}

}  // namespace

std::vector<bool> names_for_hands(const Design& design) {
  std::vector<bool> built_on(design.elements.size(), false);
  for (const Element& element : design.elements) {
    if (!element.output) {
      for (const std::size_t named : named_by(element)) {
        built_on[named] = true;
      }
    }
  }
  HandNames made(design);
  const std::set<std::size_t> machine = machine_of_outputs(design);
  std::vector<bool> names(design.elements.size(), false);
  for (std::size_t index = 0; index < design.elements.size(); ++index) {
    const bool candidate = built_on[index] || !machine.contains(index);
    names[index] = !is_input(design.elements[index]) && candidate && made.is_made_of_hands(index);
  }
  return names;
}

Design with_faults(const Design& design, const std::vector<Alteration>& faults) {
  Design result = design;
  apply(result, faults);
  const std::vector<bool> names = names_for_hands(design);
  const std::set<std::size_t> touched = downstream(design, elements_of(faults));
  // A name that a claim mentions, and those that it is made of. A name on which nothing but names is built
  // is a name itself, so each twin finds all that it needs among the twins and what is not touched.
  std::set<std::size_t> of;
  for (const std::size_t index : touched) {
    if (names[index]) {
      of.insert(index);
    }
  }
  redirect_claims(result, add_twins(design, of, "real ", false, result));
  return result;
}

Design beside_original(const Design& design, const Alteration& alteration) {
  Design result = altered(design, alteration);
  std::set<std::size_t> of;
  for (const std::size_t index : downstream(design, {alteration.element})) {
    if (!is_input(design.elements[index])) {
      of.insert(index);
    }
  }
  const Twins twins = add_twins(design, of, "original ", true, result);
  Term same = constant_term(1, {}, alteration.place);
  for (const std::size_t output : observed(design)) {
    if (const auto twin = twins.find(output); twin != twins.end()) {
      Term equal = condition_term(TermOp::equal,
                                  {reference_term(result, output, alteration.place),
                                   reference_term(result, twin->second, alteration.place)},
                                  alteration.place);
      same = condition_term(TermOp::and_, {std::move(same), std::move(equal)}, alteration.place);
    }
  }
  result.claims = {{.name = "the same",
                    .doc = "",
                    .place = alteration.place,
                    .body = alteration.place,
                    .form = ClaimForm::always,
                    .first = std::move(same)}};
  return result;
}

}  // namespace detent::dsl
