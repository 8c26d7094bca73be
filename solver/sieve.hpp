// The dropping of guesses (Houdini; the essay is in induction.cpp). Private to the solver.
#pragma once

#include <cstddef>
#include <functional>
#include <vector>

#include "solver/run.hpp"

namespace z3 {
class context;
class expr;
class solver;
}  // namespace z3

namespace detent::solver {

class Sieve {
 public:
  using Holds = std::function<bool(std::size_t guess, const std::vector<Value>& seen)>;
  /// `solver` holds the step, and outlives this. By guess: that it holds before the step, and that it does
  /// after it. `seen`: terms that are read from each answer; `holds`, given their values, must say the same
  /// as `after`.
  Sieve(z3::context& context, z3::solver& solver, const std::vector<z3::expr>& before,
        const std::vector<z3::expr>& after, const std::vector<z3::expr>& seen, Holds holds);

  /// False if Z3 gave up or was interrupted.
  bool sift();
  /// By guess: whether it is left.
  [[nodiscard]] const std::vector<bool>& alive() const { return alive_; }

 private:
  void drop_broken(const std::vector<Value>& values);

  z3::context& context_;
  z3::solver& solver_;
  const std::vector<z3::expr>& seen_;
  Holds keeps_;
  std::vector<bool> alive_;
  std::vector<z3::expr> holds_, breaks_;
};

}  // namespace detent::solver
