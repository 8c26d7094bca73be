// Claims and assumptions as nodes. Private to lowering.
#pragma once

#include <cstdint>
#include <vector>

#include "dsl/design.hpp"
#include "dsl/diagnostics.hpp"
#include "dsl/lower_terms.hpp"
#include "dsl/model.hpp"

namespace detent::dsl {

/// Elements that are not shown have no signal.
inline constexpr std::uint32_t no_signal = 0xffff'ffff;

/// `signals` gives each element's index in model.signals.
void lower_claims(const Design& design, const Sources& sources, const std::vector<std::uint32_t>& signals,
                  TermBuilder& terms, Model& model, Diagnostics& diagnostics);

}  // namespace detent::dsl
