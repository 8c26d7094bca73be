// Tree to checked design: names, types, units, ranges, times, parts, loops.
#pragma once

#include <optional>

#include "dsl/design.hpp"
#include "dsl/diagnostics.hpp"
#include "dsl/tree.hpp"

namespace detent::dsl {

/// Reports every mistake it can find. The design is absent if there was any error, here or before.
[[nodiscard]] std::optional<Design> check(const Tree& tree, const Sources& sources, Diagnostics& diagnostics);

}  // namespace detent::dsl
