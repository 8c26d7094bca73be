// How a memory is described by bounds: as wide as the numbers of the design allow, or exactly. For the
// property-directed search. Private to the solver.
#pragma once

#include <optional>
#include <set>
#include <vector>

#include "solver/invariant.hpp"
#include "solver/machine.hpp"

namespace detent::solver {

/// All of these hold.
using Cube = std::vector<Atom>;

class Bounds {
 public:
  explicit Bounds(const Machine& machine);

  /// A memory as a set of bounds that hold of it, from wide to narrow:
  ///   - at the numbers that the design compares with, and for differences of clocks at the differences of
  ///   those;
  ///   - the same, but with the differences as they are;
  ///   - at the numbers themselves.
  [[nodiscard]] std::vector<Cube> descriptions(const std::vector<Value>& memory) const;
  /// The last of these.
  [[nodiscard]] Cube exact(const std::vector<Value>& memory) const;
  /// The next wider bound at a number of the design; none where this one is at such a number already.
  [[nodiscard]] std::optional<Atom> widened(const Atom& bound) const;

 private:
  [[nodiscard]] Value at_most(std::uint32_t memory, Value value) const;
  [[nodiscard]] Value at_least(std::uint32_t memory, Value value) const;
  [[nodiscard]] Value difference(Value value) const;
  void add_number(Cube& cube, std::uint32_t index, Value low, Value high) const;
  [[nodiscard]] Cube describe(const std::vector<Value>& memory, bool exact_numbers,
                              bool exact_differences) const;

  const Machine& machine_;
  std::vector<std::set<Value>> tops_;  ///< by memory: numbers n for which `<= n` is a bound of the design
  std::set<Value> differences_;
};

}  // namespace detent::solver
