// "Within the last so many ticks", as gates.
#pragma once

#include <vector>

#include "dsl/circuit.hpp"
#include "solver/gates.hpp"

namespace detent::solver {

/// Fed with a condition tick by tick, answers whether it was true in this tick or one of the `limit` before.
class SlidingOr {
 public:
  /// `just_before_start`: count the condition as true in the tick before the first.
  SlidingOr(dsl::Value limit, bool just_before_start);

  Literal next(Gates& gates, Literal condition);

 private:
  void finish_block(Gates& gates);
  std::size_t width_;
  Literal before_start_;
  bool first_block_ = true;
  Literal so_far_ = always_false;   ///< true at some tick of this block up to now
  std::vector<Literal> block_;      ///< the condition at the ticks of this block
  std::vector<Literal> from_here_;  ///< of the block before: true at this tick of it or a later one
};

}  // namespace detent::solver
