// Other solvers' answers to questions in SMT-LIB, as programs of their own.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "dsl/model.hpp"
#include "solver/proof.hpp"

namespace detent::test {

/// Where a program is, if it is installed.
[[nodiscard]] std::optional<std::string> installed(const std::string& program);

/// Those of z3 and cvc5 that are installed. On a build server (environment variable CI) both must be: throws
/// std::runtime_error else. Elsewhere `missing` says what was left out.
[[nodiscard]] std::vector<std::string> solvers_here(std::string& missing);

/// One answer for each question: sat, unsat, or whatever else was said. All go through one start of the
/// program.
[[nodiscard]] std::vector<std::string> answers(const std::string& solver,
                                               const std::vector<std::string>& questions);

/// The three questions of a proof.
[[nodiscard]] std::vector<std::string> questions_of(const dsl::Model& model, const solver::Proof& proof);

/// What these solvers have against proofs of a model, or "".
[[nodiscard]] std::string objection(const std::vector<std::string>& solvers, const dsl::Model& model,
                                    const std::vector<solver::Proof>& proofs);

}  // namespace detent::test
