#include "solver/sieve.hpp"

#include <z3++.h>

#include <string>
#include <utility>

#include "solver/steps.hpp"

namespace detent::solver {

Sieve::Sieve(z3::context& context, z3::solver& solver, const std::vector<z3::expr>& before,
             const std::vector<z3::expr>& after, const std::vector<z3::expr>& seen, Holds holds)
    : context_(context), solver_(solver), seen_(seen), keeps_(std::move(holds)), alive_(before.size(), true) {
  for (std::size_t index = 0; index < before.size(); ++index) {
    holds_.push_back(context.bool_const(("holds " + std::to_string(index)).c_str()));
    breaks_.push_back(context.bool_const(("breaks " + std::to_string(index)).c_str()));
    solver_.add(z3::implies(holds_[index], before[index]));
    solver_.add(z3::implies(breaks_[index], !after[index]));
  }
}

// "Some are broken" is said once: those that have been dropped are not broken any more, and so have no say in
// it.
bool Sieve::sift() {
  z3::expr_vector broken(context_);
  for (const z3::expr& one : breaks_) {
    broken.push_back(one);
  }
  const z3::expr some = context_.bool_const("some are broken");
  solver_.add(z3::implies(some, z3::mk_or(broken)));
  for (;;) {
    z3::expr_vector assumptions(context_);
    for (std::size_t index = 0; index < alive_.size(); ++index) {
      if (alive_[index]) {
        assumptions.push_back(holds_[index]);
      }
    }
    if (assumptions.empty()) {
      return true;
    }
    assumptions.push_back(some);
    const z3::check_result answer = solver_.check(assumptions);
    if (answer != z3::sat) {
      return answer == z3::unsat;
    }
    drop_broken(read_values(solver_.get_model(), seen_));
  }
}

void Sieve::drop_broken(const std::vector<Value>& values) {
  for (std::size_t index = 0; index < alive_.size(); ++index) {
    if (alive_[index] && !keeps_(index, values)) {
      alive_[index] = false;
      solver_.add(!breaks_[index]);
    }
  }
}

}  // namespace detent::solver
