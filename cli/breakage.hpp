// The last sentence of a refutation: where the claim breaks, what it wanted, and what was there instead.
#pragma once

#include <string>

#include "dsl/model.hpp"
#include "solver/run.hpp"

namespace detent::cli {

/// For a run in whose last tick the claim's watch is true: "Here the claim breaks: …" or, for a `possible`
/// claim, "This run does it: …".
[[nodiscard]] std::string break_words(const dsl::Model& model, const dsl::Claim& claim,
                                      const solver::Trace& trace);

}  // namespace detent::cli
