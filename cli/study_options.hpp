// What the commands that look at many altered designs take: options as written, and as read.
#pragma once

#include <atomic>
#include <chrono>
#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "cli/options.hpp"
#include "cli/result.hpp"
#include "cli/terminal.hpp"

namespace detent::cli {

struct StudyOptions : CommonOptions {
  std::string file = {};
};

struct FaultsOptions {
  StudyOptions study = {};
  std::optional<std::string> tolerance = {};
  std::optional<std::string> bounce = {};
  std::vector<std::string> faults = {};  ///< names
  bool pairs = false;
  bool all_runs = false;
  std::optional<std::string> shard = {};
};

struct StudySettings {
  TerminalWishes terminal = {};
  std::chrono::milliseconds timeout{20'000};                    ///< for each claim of each altered design
  std::optional<std::chrono::milliseconds> total_timeout = {};  ///< for all of it
  std::optional<std::size_t> memory_mib = {};
  unsigned jobs = 1;
  bool json = false;
  const std::atomic<bool>* cancel = nullptr;  ///< see Settings
};

[[nodiscard]] std::variant<StudySettings, CommandResult> read_study_settings(const StudyOptions& options);

}  // namespace detent::cli
