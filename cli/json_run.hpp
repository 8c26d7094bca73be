// Signals and runs as JSON. Private to the JSON report.
#pragma once

#include <nlohmann/json.hpp>

#include "dsl/model.hpp"
#include "solver/run.hpp"

namespace detent::cli {

using Json = nlohmann::ordered_json;

/// true/false for a condition, the word for a position, the scaled integer for a level.
[[nodiscard]] Json json_value(const dsl::Signal& signal, dsl::Value value);

/// Name, keyword, role and how values are written.
[[nodiscard]] Json json_signal(const dsl::Signal& signal);

/// Inputs by event, and every signal's values run-length encoded.
[[nodiscard]] Json json_run(const dsl::Model& model, const solver::Run& run);

}  // namespace detent::cli
