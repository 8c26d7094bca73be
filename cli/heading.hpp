// The line that a page about one design begins with.
#pragma once

#include "cli/page.hpp"
#include "dsl/front.hpp"

namespace detent::cli {

/// The file, the design's title and its tick. `compiled` has a model.
[[nodiscard]] Line heading_of(const dsl::Compiled& compiled);

}  // namespace detent::cli
