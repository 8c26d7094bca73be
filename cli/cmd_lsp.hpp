// `detent lsp`: the language server on standard input and output.
#pragma once

#include "cli/options.hpp"
#include "cli/result.hpp"

namespace detent::cli {

/// Writes as it goes on, and has nothing to say at the end but its status.
[[nodiscard]] CommandResult serve_editor(const LspOptions& options);

}  // namespace detent::cli
