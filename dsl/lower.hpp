// Checked design to model: the circuit, and the claims compiled to nodes of it.
#pragma once

#include "dsl/design.hpp"
#include "dsl/diagnostics.hpp"
#include "dsl/model.hpp"

namespace detent::dsl {

/// Adds a diagnostic where a value can grow without bound or the circuit grows too large, and warnings for
/// elements that can be seen never to change.
[[nodiscard]] Model lower(const Design& design, const Sources& sources, Diagnostics& diagnostics);

}  // namespace detent::dsl
