// Quantities on the command line: "20 s", "2000 ticks", "30s", "2GiB", "100". Exact or refused, never
// rounded.
#pragma once

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>

#include "dsl/circuit.hpp"

namespace detent::cli {

/// What was read, or what is wrong with the text and how to mend it.
template <class T>
struct Reading {
  std::optional<T> value = {};
  std::string problem = {};
  std::string mend = {};
};

/// The most ticks that --within takes; every one more is one more copy of the design for the solver.
inline constexpr dsl::Value most_ticks = 1'000'000;

/// A number of ticks: "N ticks", or a time that is a whole number of ticks.
[[nodiscard]] Reading<dsl::Value> read_ticks(const std::string& text, std::int64_t tick_us);

/// A time of at least 1 ms in whole milliseconds: "30s", "500 ms", "2 min", "1 h".
[[nodiscard]] Reading<std::chrono::milliseconds> read_time(const std::string& text);

/// An amount of memory in MiB: "512MiB", "2 GiB".
[[nodiscard]] Reading<std::size_t> read_memory(const std::string& text);

inline constexpr unsigned most_jobs = 256;

/// A number of threads.
[[nodiscard]] Reading<unsigned> read_jobs(const std::string& text);

/// A share of more than nothing and at most 100 %, in millionths: "10 %", "0.5%".
[[nodiscard]] Reading<dsl::Value> read_share(const std::string& text);

/// A number of columns.
[[nodiscard]] Reading<std::size_t> read_width(const std::string& text);

}  // namespace detent::cli
