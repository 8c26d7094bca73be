// Elements as nodes. Private to lowering.
#pragma once

#include <vector>

#include "dsl/design.hpp"
#include "dsl/lower_terms.hpp"
#include "dsl/model.hpp"

namespace detent::dsl {

/// Lowers every element in the design's order; adds rate limits and overlaps of moves to the model.
void lower_elements(const Design& design, const Sources& sources, TermBuilder& terms, Model& model);

}  // namespace detent::dsl
