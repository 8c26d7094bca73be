// What of the command line decides an answer, as shards keep it. How an answer is shown is not among it, and
// neither is the number of threads.
#pragma once

#include "cli/options.hpp"
#include "cli/shard/strict_json.hpp"
#include "cli/study_options.hpp"

namespace detent::cli {

[[nodiscard]] Json json_options(const CheckOptions& options);
[[nodiscard]] Json json_options(const FaultsOptions& options);
[[nodiscard]] Json json_options(const TuneOptions& options);

/// Throw Misfit.
[[nodiscard]] CheckOptions read_check_options(const Strict& json);
[[nodiscard]] FaultsOptions read_faults_options(const Strict& json);
[[nodiscard]] TuneOptions read_tune_options(const Strict& json);

}  // namespace detent::cli
