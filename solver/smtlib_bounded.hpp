// The bounded question of a claim for any SMT solver (SMT-LIB 2.6): is there a run of up to N ticks?
#pragma once

#include <cstdint>
#include <string>

#include "dsl/model.hpp"

namespace detent::solver {

/// `sat`: a run of at most `ticks` ticks (>= 1) breaks the claim or, for a `possible` one, does it, in time
/// if it has one. `unsat`: no such run. The values of a model are that run; the question itself ends behind
/// (check-sat). `title` goes into the comments, one line each; it must hold no control characters but line
/// ends.
[[nodiscard]] std::string bounded_question(const dsl::Model& model, std::uint32_t claim, dsl::Value ticks,
                                           const std::string& title);

/// About how many lines that has, without writing it.
[[nodiscard]] dsl::Value bounded_question_lines(const dsl::Model& model, std::uint32_t claim,
                                                dsl::Value ticks);

}  // namespace detent::solver
