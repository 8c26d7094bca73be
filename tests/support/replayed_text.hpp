// A log in a text, held against a design as `detent replay` does.
#pragma once

#include <algorithm>
#include <cstdint>
#include <cstring>
#include <string>
#include <variant>
#include <vector>

#include "cli/csv_reader.hpp"
#include "cli/log_columns.hpp"
#include "cli/replay_study.hpp"
#include "tests/support/catch.hpp"

namespace detent::test {

/// `tolerance` in nanoseconds; levels must be exact.
inline std::variant<cli::Replay, cli::CsvProblem> replay_text(const dsl::Model& model,
                                                              const std::string& text,
                                                              std::int64_t tolerance) {
  std::size_t at = 0;
  cli::CsvReader reader([&](char* to, std::size_t most) {
    const std::size_t count = std::min(most, text.size() - at);
    std::memcpy(to, text.data() + at, count);
    at += count;
    return static_cast<std::ptrdiff_t>(count);
  });
  REQUIRE(reader.next());
  std::vector<std::string> headers;
  for (std::size_t i = 0; i < reader.fields(); ++i) headers.emplace_back(reader.field(i));
  auto columns = cli::find_columns(model, headers, {});
  REQUIRE(std::holds_alternative<cli::LogColumns>(columns));
  cli::ReplayWishes wishes{.tolerance = tolerance};
  wishes.level_tolerance.assign(model.signals.size(), 0);
  return cli::replay_log(model, reader, std::get<cli::LogColumns>(columns), wishes, nullptr);
}

}  // namespace detent::test
