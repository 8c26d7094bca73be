// What engines answer, as shards keep it: enough to make every page from, and no more.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "cli/claim_names.hpp"
#include "cli/shard/strict_json.hpp"
#include "dsl/model.hpp"
#include "solver/cases.hpp"
#include "solver/verdict.hpp"

namespace detent::cli {

/// What the inputs do, by stretches of equal values: the tick after the last, then a value for each input.
[[nodiscard]] Json json_raw_run(const solver::Run& run);
/// A run that the interpreter can play on the model. Throws Misfit.
[[nodiscard]] solver::Run read_raw_run(const Strict& json, const dsl::Model& model);
/// Throws Misfit unless the condition is true in the run's last tick and every assumption holds in all: a run
/// that is shown has been played, wherever it was found.
void confirm_raw_run(const Strict& json, const dsl::Model& model, const solver::Run& run,
                     dsl::NodeId condition);

[[nodiscard]] solver::Limit read_limit(const Strict& json);
/// The claim of that name. Throws Misfit.
[[nodiscard]] std::uint32_t read_claim(const Strict& json, const ClaimNames& names);

/// Of the proof it is only kept that there is one.
[[nodiscard]] Json json_raw_verdict(const dsl::Model& model, const solver::Verdict& verdict);
/// `played_on` gives the model that its run is played on; asked only where there is a run. Throws Misfit.
[[nodiscard]] solver::Verdict read_raw_verdict(const Strict& json, const ClaimNames& names,
                                               const std::function<const dsl::Model&()>& played_on);

[[nodiscard]] Json json_raw_answer(const dsl::Model& model, const solver::CaseAnswer& answer);
[[nodiscard]] solver::CaseAnswer read_raw_answer(const Strict& json, const ClaimNames& names,
                                                 const std::function<const dsl::Model&()>& played_on);

}  // namespace detent::cli
