// Inputs, and the facts about elements that their first line alone settles. Private to checking.
#pragma once

#include <string>
#include <vector>

#include "dsl/design.hpp"
#include "dsl/terms.hpp"

namespace detent::dsl {

/// The word that declared an element: "channel", "signal", …; "" for an argument of a part.
[[nodiscard]] std::string keyword_of(const PendingElement& pending);

/// All elements with name, place and keyword; inputs complete; types filled in where they are plain to see
/// (conditions of clocks and latches, positions of switches and stages, numbers of counters).
[[nodiscard]] std::vector<Element> check_inputs(const Collected& collected, TermChecker& terms,
                                                CheckContext& context);

}  // namespace detent::dsl
