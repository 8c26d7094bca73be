// A shard's part of tuning, and what is known of all values from all parts.
#pragma once

#include <utility>
#include <vector>

#include "cli/shard/faults_part.hpp"
#include "cli/shard/shard.hpp"
#include "cli/shard/strict_json.hpp"
#include "cli/tune_study.hpp"

namespace detent::cli {

/// Points [first, second) of a study.
struct PointStretch {
  std::size_t study = 0;
  std::pair<std::size_t, std::size_t> points;
};

/// What this shard decides: of the values of all studies, one after another, a stretch. Values that lie
/// beside each other share proofs and runs. Only stretches that are not empty.
[[nodiscard]] std::vector<PointStretch> stretches_of(const std::vector<TuneStudy>& studies,
                                                     const Shard& shard);

[[nodiscard]] Json tune_part(const TuneResult& result, const std::vector<PointStretch>& mine);
/// Whether no limit left anything open in these.
[[nodiscard]] bool all_decided(const TuneResult& result, const std::vector<PointStretch>& mine);

/// Puts into `planned` what all parts say of its values; edges and told runs are left to finish(). Throws
/// Misfit.
void join_tune(TuneResult& planned, const std::vector<PartOf>& parts);

}  // namespace detent::cli
