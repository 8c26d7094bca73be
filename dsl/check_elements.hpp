// Each declaration of an element, checked. Private to checking.
#pragma once

#include <vector>

#include "dsl/design.hpp"
#include "dsl/order.hpp"
#include "dsl/terms.hpp"

namespace detent::dsl {

/// Checks all elements in typing order, filling in terms.facts. The result has one element for each pending
/// one, meaningful where nothing was reported.
[[nodiscard]] std::vector<Element> check_elements(const Collected& collected, const Order& order,
                                                  TermChecker& terms, CheckContext& context);

}  // namespace detent::dsl
