// Steps in a solver. Private to the solver.
#pragma once

#include <string>
#include <vector>

#include "solver/steps.hpp"

namespace z3 {
class solver;
}

namespace detent::solver {

/// Each term under a name of its own, "memory 0<suffix>" and so on, which keeps what is built on it small.
[[nodiscard]] std::vector<z3::expr> name_all(z3::context& context, z3::solver& solver,
                                             const std::vector<z3::expr>& terms, const std::string& suffix);

void add_all(z3::solver& solver, const std::vector<z3::expr>& facts);

}  // namespace detent::solver
