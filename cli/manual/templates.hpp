// The part of each completion that hangs on no command: a script of its shell, with lines "#: NAME" for the
// rest.
#pragma once

#include <map>
#include <string>
#include <string_view>

namespace detent::cli::manual {

[[nodiscard]] std::string_view bash_template();
[[nodiscard]] std::string_view zsh_template();
[[nodiscard]] std::string_view fish_template();

/// Puts rows in the place of each line "#: NAME", moved in as far as that line. Throws std::out_of_range for
/// a name that is not there.
[[nodiscard]] std::string filled(std::string_view script, const std::map<std::string, std::string>& rows);

}  // namespace detent::cli::manual
