// A clock that is compared with a fixed time need not be counted: age(a) <= k says that a was true in one of
// the last k + 1 ticks. Written out for each tick that is k gates; with the running maximum of van Herk
// (Pattern Recognition Letters 13, 1992) and of Gil and Werman (IEEE PAMI 15, 1993), taken over "or", it is
// three gates for each tick, however long the time is:
//
//   cut time into blocks of k + 1 ticks; the window that ends at tick t is the end of the block before (an
//   "or" taken backwards from that block's last tick) and the beginning of this one (an "or" taken forwards).
//
// And where a counter's digits tell a solver nothing until all are known, here one known tick is enough.
// Where the time is at most as long as the run, there is one block, and each tick costs one gate.
#include "solver/sliding_or.hpp"

namespace detent::solver {

SlidingOr::SlidingOr(dsl::Value limit, bool just_before_start)
    : width_(static_cast<std::size_t>(limit) + 1), before_start_(literal(just_before_start)) {}

Literal SlidingOr::next(Gates& gates, Literal condition) {
  block_.push_back(condition);
  so_far_ = gates.either(so_far_, condition);
  const std::size_t place = block_.size();  // the window reaches back to this place of the block before
  if (place == width_) {
    const Literal whole = so_far_;
    finish_block(gates);
    return whole;
  }
  return gates.either(so_far_, first_block_ ? before_start_ : from_here_[place]);
}

void SlidingOr::finish_block(Gates& gates) {
  Literal later = always_false;
  for (std::size_t place = block_.size(); place-- > 0;) {
    later = gates.either(block_[place], later);
    block_[place] = later;
  }
  from_here_.swap(block_);
  block_.clear();
  so_far_ = always_false;
  first_block_ = false;
}

}  // namespace detent::solver
