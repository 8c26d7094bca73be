// Working with invariants: what they say of a concrete memory, and their terms for Z3.
#pragma once

#include <vector>

#include "solver/proof.hpp"

namespace z3 {
class context;
class expr;
}  // namespace z3

namespace detent::solver {

[[nodiscard]] bool holds(const Atom& atom, const std::vector<Value>& memory);
[[nodiscard]] bool holds(const Clause& clause, const std::vector<Value>& memory);
[[nodiscard]] Atom opposite(const Atom& atom);

[[nodiscard]] z3::expr term_of(z3::context& context, const Clause& clause,
                               const std::vector<z3::expr>& memory);

}  // namespace detent::solver
