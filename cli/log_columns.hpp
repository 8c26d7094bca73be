// Which column of a log is what, and how its cells are read.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "cli/decimal.hpp"
#include "cli/log_wishes.hpp"
#include "cli/result.hpp"
#include "dsl/model.hpp"

namespace detent::cli {

/// Levels are compared in millionths of the last digit that the design knows of them.
inline constexpr std::int64_t fine_per_step = 1'000'000;

/// The straight line through two points, from the log's numbers (in millionths) to fine levels.
struct LevelScale {
  std::int64_t from_low = 0, from_high = 0;
  std::int64_t to_low = 0, to_high = 0;
};

/// A cell that means a position or a condition: this text, or a number from low to high (in millionths).
struct WordRule {
  std::string text;
  std::optional<std::pair<std::int64_t, std::int64_t>> range = {};
  dsl::Value value = 0;
};

struct LogColumn {
  std::size_t field = 0;
  std::string header;
  std::uint32_t signal = 0;  ///< index into Model::signals
  std::optional<LevelScale> scale = {};
  std::vector<WordRule> words = {};
};

struct LogColumns {
  std::size_t fields = 0;  ///< in every row
  std::size_t time_field = 0;
  std::string time_header;
  std::int64_t time_unit = 0;                               ///< nanoseconds
  std::vector<LogColumn> inputs, outputs;                   ///< outputs: whatever is no input
  std::vector<std::pair<std::uint32_t, dsl::Value>> still;  ///< inputs without a column, and where they stand
  std::vector<std::string> assumed;     ///< those of them that nobody spoke of: links, edges at power-up
  std::vector<std::string> not_logged;  ///< outputs without a column
  std::vector<std::string> unknown;     ///< headers that the design doesn't know
};

/// `headers`: the fields of the first row. A problem names the header or the option.
[[nodiscard]] std::variant<LogColumns, CommandResult> find_columns(const dsl::Model& model,
                                                                   const std::vector<std::string>& headers,
                                                                   const LogWishes& wishes);

/// A cell as a number: a level in fine units, else the index of the position or 0/1. `comma`: decimal commas.
/// Nothing where it can't be read; cell_mend() says how it should be.
[[nodiscard]] std::optional<std::int64_t> read_cell(const dsl::Model& model, const LogColumn& column,
                                                    std::string_view text, bool comma);
[[nodiscard]] std::string cell_mend(const dsl::Model& model, const LogColumn& column);

}  // namespace detent::cli
