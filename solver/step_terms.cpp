#include "solver/step_terms.hpp"

#include <z3++.h>

namespace detent::solver {

std::vector<z3::expr> name_all(z3::context& context, z3::solver& solver, const std::vector<z3::expr>& terms,
                               const std::string& suffix) {
  std::vector<z3::expr> named;
  for (std::size_t index = 0; index < terms.size(); ++index) {
    const std::string name = "memory " + std::to_string(index) + suffix;
    named.push_back(terms[index].is_bool() ? context.bool_const(name.c_str())
                                           : context.int_const(name.c_str()));
    solver.add(named.back() == terms[index]);
  }
  return named;
}

void add_all(z3::solver& solver, const std::vector<z3::expr>& facts) {
  for (const z3::expr& fact : facts) {
    solver.add(fact);
  }
}

}  // namespace detent::solver
