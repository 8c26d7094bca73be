// A design for Graphviz, in its language DOT.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "dsl/front.hpp"

namespace detent::cli {

/// Inputs, elements and outputs, each a node that is called as in the design, with its keyword and its
/// sentence as a tooltip; a line leads from what is read to what reads it, dashed where what is read is one
/// tick old; parts in use are clusters. `compiled` has a model.
[[nodiscard]] std::string elements_dot(const dsl::Compiled& compiled);

/// The nodes of the circuit, called n0, n1, … as in `detent show FILE circuit`; a line leads from each
/// operand to what is computed of it, dashed where it is remembered until the next tick. With `claim` (an
/// index into Model::claims), only what it depends on.
[[nodiscard]] std::string circuit_dot(const dsl::Compiled& compiled, std::optional<std::uint32_t> claim);

}  // namespace detent::cli
