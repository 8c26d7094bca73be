// Who needs whom: the orders in which elements are typed and evaluated, loops without a `previous`, and what
// nothing uses. Private to checking.
#pragma once

#include <vector>

#include "dsl/scope.hpp"

namespace detent::dsl {

struct Order {
  std::vector<std::size_t> typing;      ///< what a `previous` looks at comes first too, where that can be
  std::vector<std::size_t> evaluation;  ///< by what is needed in the same tick
  std::vector<bool> used;               ///< some other element, claim or assumption names it
  std::vector<bool> used_from_outside;  ///< the same, counting only what stands outside its part
};

/// Reports loops of elements that need each other in the same tick.
[[nodiscard]] Order order_elements(const Collected& collected, CheckContext& context);

}  // namespace detent::dsl
