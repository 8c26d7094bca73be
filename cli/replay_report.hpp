// What `detent replay` says: for people and for programs.
#pragma once

#include <string>

#include "cli/page.hpp"
#include "cli/replay_study.hpp"
#include "cli/result.hpp"
#include "dsl/front.hpp"

namespace detent::cli {

struct ReplayResult {
  std::string file;
  std::string log_file;
  dsl::Compiled compiled;
  ReplayWishes wishes = {};
  Replay replay = {};
};

[[nodiscard]] Status status_of(const ReplayResult& result);
[[nodiscard]] Page replay_page(const ReplayResult& result, const Terminal& terminal);
[[nodiscard]] std::string replay_json(const ReplayResult& result);

}  // namespace detent::cli
