// Facts about what a machine remembers, true between any two steps of any run: the material of proofs.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "solver/machine.hpp"

namespace z3 {
class context;
class expr;
}  // namespace z3

namespace detent::solver {

/// One statement about one or two memories (by index into Machine::memories).
struct Atom {
  enum class Kind : std::uint8_t {
    is,          ///< first == limit (a condition: 0 or 1)
    is_not,      ///< first != limit
    at_most,     ///< first <= limit
    at_least,    ///< first >= limit
    difference,  ///< first - second <= limit
  };
  Kind kind = Kind::is;
  std::uint32_t first = 0;
  std::uint32_t second = 0;
  Value limit = 0;
  friend bool operator==(const Atom&, const Atom&) = default;
  friend auto operator<=>(const Atom&, const Atom&) = default;
};

/// At least one of these holds.
using Clause = std::vector<Atom>;

/// All of these hold between any two steps.
using Invariant = std::vector<Clause>;

[[nodiscard]] bool holds(const Atom& atom, const std::vector<Value>& memory);
[[nodiscard]] bool holds(const Clause& clause, const std::vector<Value>& memory);
[[nodiscard]] Atom opposite(const Atom& atom);

[[nodiscard]] z3::expr term_of(z3::context& context, const Clause& clause, const std::vector<z3::expr>& memory);

}  // namespace detent::solver
