// What is known of one claim of an open design at this moment.
#pragma once

#include <string>

#include "cli/lsp/workspace.hpp"
#include "dsl/model.hpp"

namespace detent::cli::lsp {

inline constexpr const char* model_caution =
    "A proof is about the model, not the wiring: blade or propeller off on the bench.";

/// Null if there is no verdict on the text as it stands, or none that means anything.
[[nodiscard]] const solver::Verdict* verdict_of(const OpenDesign& open, const dsl::Claim& claim);

/// "proved, in every run of any length", "being checked"; "" if nothing is known and nothing goes on. The
/// claim is one of the design's own model.
[[nodiscard]] std::string verdict_label(const OpenDesign& open, const dsl::Claim& claim);

}  // namespace detent::cli::lsp
