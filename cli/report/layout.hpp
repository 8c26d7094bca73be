// Where everything in a picture stands: worked out by Graphviz' program `dot`.
#pragma once

#include <optional>

#include "cli/report/picture.hpp"
#include "cli/result.hpp"

namespace detent::cli::report {

/// Tried on an empty picture, before a check that may take long: a message if `dot` is not there or does not
/// work.
[[nodiscard]] std::optional<CommandResult> try_layout();

/// Gives every node, edge and frame its place. Where `dot` does not come to an end in time, Picture::why_not
/// says so.
void lay_out(Picture& picture);

}  // namespace detent::cli::report
