// The same questions without skipping time, for solvers that know nothing of this program.
#pragma once

#include <string>

#include "dsl/model.hpp"

namespace detent::bench {

/// A claim as constrained Horn clauses over single ticks (SMT-LIB, logic HORN): unsatisfiable if it can be
/// broken.
[[nodiscard]] std::string horn_question(const dsl::Model& model, const dsl::Claim& claim);

/// Whether a run of up to `ticks` ticks breaks the claim, unrolled tick by tick (QF_LIA).
[[nodiscard]] std::string unrolled_question(const dsl::Model& model, const dsl::Claim& claim, long ticks);

}  // namespace detent::bench
