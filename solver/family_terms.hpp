// Which values of a family are asked about, as a term. Private to the solver.
#pragma once

#include <vector>

#include "solver/family.hpp"

namespace z3 {
class context;
class expr;
}  // namespace z3

namespace detent::solver {

/// That the unknown value is one of these members: exactly, by bounds on row, column and their difference and
/// sum where those say it, and row by row otherwise.
[[nodiscard]] std::vector<z3::expr> one_of(z3::context& context, const std::vector<Member>& members);

}  // namespace detent::solver
