// What a proof rests on: facts about what a machine remembers, true between any two steps of any run.
#pragma once

#include <compare>
#include <cstdint>
#include <vector>

#include "solver/run.hpp"

namespace detent::solver {

/// One statement about one or two memories (by index into Machine::memories).
struct Atom {
  /// What it says.
  enum class Kind : std::uint8_t {
    is,          ///< first == limit (a condition: 0 or 1)
    is_not,      ///< first != limit
    at_most,     ///< first <= limit
    at_least,    ///< first >= limit
    difference,  ///< first - second <= limit
  };
  Kind kind = Kind::is;                                        ///< says what the rest means
  std::uint32_t first = 0;                                     ///< a memory
  std::uint32_t second = 0;                                    ///< difference: the other memory
  Value limit = 0;                                             ///< the number that it is compared with
  friend bool operator==(const Atom&, const Atom&) = default;  ///< word for word the same
  /// Some order, for maps.
  friend auto operator<=>(const Atom&,
                          const Atom&) = default;  // NOLINT(modernize-use-nullptr): 0 is the comparison's own
};

/// At least one of these holds.
using Clause = std::vector<Atom>;

/// All of these hold between any two steps.
using Invariant = std::vector<Clause>;

/// Why a condition is never true, in any run of any length:
///   the invariant holds before tick 0; one step from where it holds leads to where it holds; and of k steps
///   from where it holds, if the first k-1 do not have the condition true, the last has not; and no run of
///   k-1 steps has.
/// It speaks of the machine of the slice of these conditions (slice_for, machine_of in solver/machine.hpp).
struct Proof {
  NodeId never = dsl::no_node;        ///< the condition, as node of the whole circuit
  std::vector<NodeId> slice_of = {};  ///< nodes of the whole circuit
  Invariant invariant = {};           ///< see above
  int k = 1;                          ///< see above; >= 1
};

}  // namespace detent::solver
