// What is said of a design in an editor: the text's own diagnostics, and verdicts on their claims' lines.
#pragma once

#include <map>
#include <string>

#include "cli/lsp/analysis.hpp"
#include "cli/lsp/client.hpp"
#include "solver/verdict.hpp"

namespace detent::cli::lsp {

/// Diagnostics by the path of the file that they are shown in, each a JSON list.
using DiagnosticsByPath = std::map<std::string, Json>;

/// Also says of every file of the design that there is nothing to say.
void add_text_diagnostics(const Analysis& design, const Client& client, DiagnosticsByPath& all);

/// For a design that has a model, and what was found out about it.
void add_verdicts(const Analysis& design, const solver::Report& report, const Client& client,
                  DiagnosticsByPath& all);

}  // namespace detent::cli::lsp
