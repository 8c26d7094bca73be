// A log held against the design: the model is moved by the log's hands, and what it answers is compared with
// what the log says.
#pragma once

#include <atomic>
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "cli/closeness.hpp"
#include "cli/csv_reader.hpp"
#include "cli/log_columns.hpp"
#include "cli/run_judge.hpp"

namespace detent::cli {

struct ReplayWishes {
  Nanoseconds tolerance = 0;
  std::vector<std::int64_t> level_tolerance = {};  ///< by signal, in fine units
};

/// A signal that the log has a column for beside the inputs.
struct Compared {
  std::uint32_t signal = 0;
  std::string header;
  std::optional<Parting> parting = {};
};

struct Replay {
  LogColumns columns;
  char separator = ',';
  std::size_t rows = 0;    ///< without the header
  Nanoseconds length = 0;  ///< from the first row to the last
  Value ticks = 0;         ///< played
  std::vector<Compared> compared;
  std::vector<ClaimOnRun> claims;
  std::optional<Unkept> unkept = {};
  std::size_t together = 0;  ///< rows whose movements the model sees together with those of a row before
  bool interrupted = false;
};

/// Reads the rows behind the header, of which `columns` were found. A problem names row and column.
[[nodiscard]] std::variant<Replay, CsvProblem> replay_log(const dsl::Model& model, CsvReader& reader,
                                                          LogColumns columns, const ReplayWishes& wishes,
                                                          const std::atomic<bool>* cancel);

/// The first of the partings.
[[nodiscard]] const Compared* first_parting(const Replay& replay);

/// Whether log and model agree, no claim is broken and every assumption was kept.
[[nodiscard]] bool all_is_well(const dsl::Model& model, const Replay& replay);

}  // namespace detent::cli
