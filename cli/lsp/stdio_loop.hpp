// The server on this process's own standard input and output, until the client says `exit` or goes away.
#pragma once

#include "cli/lsp/server_options.hpp"

namespace detent::cli::lsp {

/// The exit status: 0 after `shutdown`, else 1. Nothing but the protocol is written to standard output.
[[nodiscard]] int serve(ServerOptions options);

}  // namespace detent::cli::lsp
