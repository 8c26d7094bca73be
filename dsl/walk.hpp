// Going through the expressions of a checked design, to look at them or to change them.
#pragma once

#include <cstddef>
#include <functional>
#include <map>
#include <set>
#include <vector>

#include "dsl/design.hpp"

namespace detent::dsl {

[[nodiscard]] bool is_input(const Element& element);

/// Every whole expression of an element, in the order in which its form has them.
[[nodiscard]] std::vector<Term*> terms_of(ElementBody& body);
[[nodiscard]] std::vector<const Term*> terms_of(const ElementBody& body);

/// The term and all that it is made of, the outermost first.
void visit(Term& term, const std::function<void(Term&)>& look);
void visit(const Term& term, const std::function<void(const Term&)>& look);

/// The elements that an element's expressions name; of an input that a link carries, the link.
[[nodiscard]] std::set<std::size_t> named_by(const Element& element);

/// The elements that depend on one of these, through time as well, those themselves included.
[[nodiscard]] std::set<std::size_t> downstream(const Design& design, const std::set<std::size_t>& of);

/// The elements that the outputs depend on, through time as well, those themselves included: what the machine
/// is made of. What else there is only helps to say claims. All elements, where there is no output.
[[nodiscard]] std::set<std::size_t> machine_of_outputs(const Design& design);

// ---- Small terms ----

[[nodiscard]] Term constant_term(Value value, const Type& type, const Place& place);
[[nodiscard]] Term condition_term(TermOp op, std::vector<Term> operands, const Place& place, Value value = 0);
[[nodiscard]] Term reference_term(const Design& design, std::size_t element, const Place& place);
/// True at tick 0 only.
[[nodiscard]] Term first_tick_term(const Place& place);

/// Puts `by` in the place of every mention of an element by this operation (reference, hand or lost).
void substitute(Term& term, TermOp op, std::size_t element, const Term& by);

/// Lets every reference to a key refer to its value.
void redirect(Term& term, const std::map<std::size_t, std::size_t>& to);

/// Adds an element that is evaluated right behind another. Returns its index.
std::size_t insert_behind(Design& design, std::size_t other, Element element);
/// The same, right before another.
std::size_t insert_before(Design& design, std::size_t other, Element element);

}  // namespace detent::dsl
