// What led to the end of a run, told to a person: the end first, then its causes in order of time.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "cli/page.hpp"
#include "dsl/model.hpp"
#include "solver/proof.hpp"
#include "solver/run.hpp"

namespace detent::cli {

/// For a run in whose last tick the claim's watch is true.
[[nodiscard]] Page run_causes_page(const dsl::Model& model, const dsl::Claim& claim, const solver::Run& run,
                                   const Terminal& terminal);

/// What a proof rests on: "It rests on" and "window and live.", and the like.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> proof_reasons(const dsl::Model& model,
                                                                             const solver::Proof& proof);

}  // namespace detent::cli
