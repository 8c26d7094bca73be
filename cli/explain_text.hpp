// An explanation as a page for people: words first, SMT-LIB second.
#pragma once

#include "cli/explain.hpp"
#include "cli/page.hpp"

namespace detent::cli {

/// SMT-LIB stands behind `| ` and is never broken into lines, so that it can be copied out of the page.
[[nodiscard]] Page explain_page(const dsl::Compiled& compiled, const solver::Verdict& verdict,
                                const Explanation& explanation, const Terminal& terminal);

}  // namespace detent::cli
