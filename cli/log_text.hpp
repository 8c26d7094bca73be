// A run as a log: a row for every tick in which an input or an output changes (cli/formats.md).
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "cli/player.hpp"
#include "dsl/model.hpp"

namespace detent::cli {

/// The signals that a log has columns for: every input, then every output, in the order of the design.
[[nodiscard]] std::vector<std::uint32_t> log_signals(const dsl::Model& model);

/// "thrust %", "guard".
[[nodiscard]] std::string log_header(const dsl::Signal& signal);

/// "40", "safe": the value without its unit, which stands in the header.
[[nodiscard]] std::string log_cell(const dsl::Signal& signal, dsl::Value value);

/// Seconds since power-up, exact: "0.35".
[[nodiscard]] std::string log_time(dsl::Value tick, std::int64_t tick_us);
inline constexpr const char* log_time_header = "time s";

[[nodiscard]] std::string log_text(const dsl::Model& model, const HandRun& run);

}  // namespace detent::cli
