#pragma once

#include "cli/lsp/client.hpp"

namespace detent::cli::lsp {

/// The answer to `initialize`: what this server can do for such a client.
[[nodiscard]] Json capabilities(const Client& client);

/// The one command that `workspace/executeCommand` knows: check the claims of a text, and answer what `detent
/// check --format json` would print.
inline constexpr const char* check_command = "detent.check";

}  // namespace detent::cli::lsp
