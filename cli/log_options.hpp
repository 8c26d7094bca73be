// The options that say how a log is to be read, as written and as understood.
#pragma once

#include <map>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "cli/log_columns.hpp"
#include "cli/value_text.hpp"

namespace detent::cli {

struct LogOptions {
  struct Scale {
    LevelScale scale;
    std::string unit;  ///< of the log's side, "" if it says none
  };
  std::vector<std::pair<std::uint32_t, std::string>> columns;  ///< signal and header
  std::map<std::uint32_t, Scale> scales;
  std::map<std::uint32_t, std::vector<WordRule>> words;
  std::vector<Move> stills;
};

[[nodiscard]] std::variant<LogOptions, CommandResult> read_log_options(const dsl::Model& model,
                                                                       const LogWishes& wishes);

}  // namespace detent::cli
