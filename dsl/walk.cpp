#include "dsl/walk.hpp"

#include <algorithm>
#include <type_traits>
#include <utility>

namespace detent::dsl {
namespace {

/// The expressions of each form of element; absent ones are left out. `Any` is Term or const Term.
template <class Any>
struct TermsOf {
  std::vector<Any*> terms = {};

  template <class Body>
  void operator()(Body& body) {
    using Form = std::remove_const_t<Body>;
    if constexpr (std::is_same_v<Form, ValueBody>) {
      add(body.value);
    } else if constexpr (std::is_same_v<Form, PulseBody>) {
      add(body.trigger, body.cancel);
    } else if constexpr (std::is_same_v<Form, DelayBody> || std::is_same_v<Form, LingerBody>) {
      add(body.input);
    } else if constexpr (std::is_same_v<Form, LatchBody>) {
      add(body.set, body.reset);
    } else if constexpr (std::is_same_v<Form, CounterBody>) {
      add(body.up, body.down, body.reset);
    } else if constexpr (std::is_same_v<Form, KeepBody>) {
      add(body.value, body.when);
    } else if constexpr (std::is_same_v<Form, StagesBody>) {
      for (auto& move : body.moves) {
        add(move.when);
      }
    }
  }

 private:
  template <class... Parts>
  void add(Parts&... parts) {
    (add_one(parts), ...);
  }
  void add_one(Any& term) { terms.push_back(&term); }
  template <class Optional>
  void add_one(Optional& term) {
    if (term) {
      terms.push_back(&*term);
    }
  }
};

bool names_one(const Term& term) {
  return term.op == TermOp::reference || term.op == TermOp::hand || term.op == TermOp::lost;
}

}  // namespace

bool is_input(const Element& element) {
  return std::holds_alternative<ChannelBody>(element.body) ||
         std::holds_alternative<SwitchBody>(element.body) ||
         std::holds_alternative<ButtonBody>(element.body) || std::holds_alternative<LinkBody>(element.body);
}

std::vector<Term*> terms_of(ElementBody& body) {
  TermsOf<Term> collect;
  std::visit(collect, body);
  return std::move(collect.terms);
}

std::vector<const Term*> terms_of(const ElementBody& body) {
  TermsOf<const Term> collect;
  std::visit(collect, body);
  return std::move(collect.terms);
}

void visit(Term& term, const std::function<void(Term&)>& look) {
  look(term);
  for (Term& operand : term.operands) {
    visit(operand, look);
  }
}

void visit(const Term& term, const std::function<void(const Term&)>& look) {
  look(term);
  for (const Term& operand : term.operands) {
    visit(operand, look);
  }
}

std::set<std::size_t> named_by(const Element& element) {
  std::set<std::size_t> named;
  for (const Term* whole : terms_of(element.body)) {
    visit(*whole, [&](const Term& term) {
      if (names_one(term)) {
        named.insert(term.element);
      }
    });
  }
  if (element.carriage) {
    named.insert(element.carriage->link);
  }
  return named;
}

std::set<std::size_t> downstream(const Design& design, const std::set<std::size_t>& of) {
  std::set<std::size_t> reached = of;
  for (bool more = true; more;) {
    more = false;
    for (std::size_t index = 0; index < design.elements.size(); ++index) {
      const std::set<std::size_t> named = named_by(design.elements[index]);
      const bool depends =
          std::any_of(named.begin(), named.end(), [&](std::size_t one) { return reached.contains(one); });
      more = (depends && reached.insert(index).second) || more;
    }
  }
  return reached;
}

std::set<std::size_t> machine_of_outputs(const Design& design) {
  std::set<std::size_t> reached;
  std::vector<std::size_t> open;
  for (std::size_t index = 0; index < design.elements.size(); ++index) {
    if (design.elements[index].output) {
      open.push_back(index);
    }
  }
  const bool all = open.empty();
  for (std::size_t index = 0; all && index < design.elements.size(); ++index) {
    open.push_back(index);
  }
  while (!open.empty()) {
    const std::size_t index = open.back();
    open.pop_back();
    if (reached.insert(index).second) {
      const std::set<std::size_t> named = named_by(design.elements[index]);
      open.insert(open.end(), named.begin(), named.end());
    }
  }
  return reached;
}

Term constant_term(Value value, const Type& type, const Place& place) {
  return {.op = TermOp::constant, .type = type, .place = place, .value = value};
}

Term condition_term(TermOp op, std::vector<Term> operands, const Place& place, Value value) {
  return {.op = op, .type = {}, .place = place, .value = value, .operands = std::move(operands)};
}

Term reference_term(const Design& design, std::size_t element, const Place& place) {
  return {.op = TermOp::reference, .type = design.elements[element].type, .place = place, .element = element};
}

Term first_tick_term(const Place& place) {
  Term later = condition_term(TermOp::previous, {constant_term(1, {}, place)}, place);
  return condition_term(TermOp::not_, {std::move(later)}, place);
}

void substitute(Term& term, TermOp op, std::size_t element, const Term& by) {
  if (term.op == op && term.element == element) {
    term = by;
    return;
  }
  for (Term& operand : term.operands) {
    substitute(operand, op, element, by);
  }
}

void redirect(Term& whole, const std::map<std::size_t, std::size_t>& to) {
  visit(whole, [&](Term& term) {
    const auto found = to.find(term.element);
    if (term.op == TermOp::reference && found != to.end()) {
      term.element = found->second;
    }
  });
}

std::size_t insert_behind(Design& design, std::size_t other, Element element) {
  const std::size_t index = design.elements.size();
  design.elements.push_back(std::move(element));
  const auto place = std::find(design.order.begin(), design.order.end(), other);
  design.order.insert(place == design.order.end() ? place : place + 1, index);
  return index;
}

std::size_t insert_before(Design& design, std::size_t other, Element element) {
  const std::size_t index = design.elements.size();
  design.elements.push_back(std::move(element));
  design.order.insert(std::find(design.order.begin(), design.order.end(), other), index);
  return index;
}

}  // namespace detent::dsl
