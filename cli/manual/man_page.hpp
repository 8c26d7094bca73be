// Manual pages in roff's man macros, made of the help texts.
#pragma once

#include <string>

#include "cli/manual/help_page.hpp"

namespace detent::cli::manual {

struct Edition {
  std::string version;  ///< "0.1.0"
  std::string date;     ///< "2026-11-27": of the version, not of the day on which it was built
};

/// detent(1): what there is, exit statuses, files, surroundings, cautions.
[[nodiscard]] std::string overview_page(const Edition& edition);

/// "check" to detent-check(1).
[[nodiscard]] std::string command_page(const std::string& command, const HelpPage& help,
                                       const Edition& edition);

}  // namespace detent::cli::manual
