// Terms made of terms.
#include <utility>

#include "dsl/limits.hpp"
#include "dsl/terms.hpp"

namespace detent::dsl {

bool is_constant(const Term& term) {
  return term.op == TermOp::constant;
}

Term make_truth(bool value, const Place& place) {
  return {.op = TermOp::constant, .type = {}, .place = place, .value = value ? 1 : 0};
}

Term make_not(Term operand, const Place& place) {
  return {.op = TermOp::not_, .type = {}, .place = place, .operands = {std::move(operand)}};
}

Term make_condition(TermOp op, std::vector<Term> operands, const Place& place, Value value) {
  return {.op = op, .type = {}, .place = place, .value = value, .operands = std::move(operands)};
}

Term make_times(Value factor, Term operand, const Place& place) {
  if (is_constant(operand)) {
    operand.value = saturating_product(factor, operand.value);
    operand.place = place;
    return operand;
  }
  Type type = operand.type;
  return {.op = TermOp::times,
          .type = std::move(type),
          .place = place,
          .value = factor,
          .operands = {std::move(operand)}};
}

Term join_all(std::vector<Term> terms, const std::function<Term(std::vector<Term>)>& join) {
  while (terms.size() > 1) {
    std::vector<Term> joined;
    joined.reserve(terms.size() / 2 + 1);
    for (std::size_t index = 0; index + 1 < terms.size(); index += 2) {
      std::vector<Term> pair;
      pair.reserve(2);
      pair.push_back(std::move(terms[index]));
      pair.push_back(std::move(terms[index + 1]));
      joined.push_back(join(std::move(pair)));
    }
    if (terms.size() % 2 != 0) {
      joined.push_back(std::move(terms.back()));
    }
    terms = std::move(joined);
  }
  return std::move(terms.front());
}

}  // namespace detent::dsl
