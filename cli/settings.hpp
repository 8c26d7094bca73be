// The options that mean the same in every command that asks the engines; no design is needed to understand
// them.
#pragma once

#include <atomic>
#include <chrono>
#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "cli/options.hpp"
#include "cli/quantities.hpp"
#include "cli/result.hpp"
#include "cli/terminal.hpp"

namespace detent::cli {

/// How long each question may take if --timeout does not say; only a design that is hard to decide needs it.
inline constexpr std::chrono::milliseconds usual_patience{60'000};

struct Settings {
  TerminalWishes terminal = {};
  std::optional<std::chrono::milliseconds> timeout = {};
  std::optional<std::chrono::milliseconds> total_timeout = {};  ///< for all questions together
  std::optional<std::size_t> memory_mib = {};
  unsigned jobs = 1;
  bool json = false;
  std::string format = "text";
  /// The caller's own, where it runs several commands and is to be stopped as one; null: each makes its own.
  const std::atomic<bool>* cancel = nullptr;
};

/// What the options say, or a message that names the one that can't be understood. Without --jobs: as many
/// threads as the machine has cores. `more_formats`: what --format may say besides text and json.
[[nodiscard]] std::variant<Settings, CommandResult> read_settings(
    const CommonOptions& options, const std::vector<std::string>& more_formats = {});

/// "there is no 'jsn'", and the nearest of what there is.
[[nodiscard]] CommandResult bad_word(const char* option, const std::string& seen,
                                     const std::vector<std::string>& known);

template <class T>
CommandResult bad_option(const std::string& option, const Reading<T>& reading) {
  return usage_error(option + ": " + reading.problem, reading.mend);
}

/// The time that each question may take, in words: "60 s".
[[nodiscard]] std::string patience_words(const Settings& settings);

}  // namespace detent::cli
