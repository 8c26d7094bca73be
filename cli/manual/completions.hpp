// What a shell offers when Tab is pressed, for the three shells of Debian.
#pragma once

#include <string>
#include <vector>

#include "cli/manual/command_line.hpp"

namespace detent::cli::manual {

/// Sourced by bash, by hand or by the package bash-completion, which it does not need itself.
[[nodiscard]] std::string bash_completion(const std::vector<CommandLine>& commands);
/// An autoloaded function of zsh, `_detent`.
[[nodiscard]] std::string zsh_completion(const std::vector<CommandLine>& commands);
[[nodiscard]] std::string fish_completion(const std::vector<CommandLine>& commands);

}  // namespace detent::cli::manual
