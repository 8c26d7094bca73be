// Every claim of either design, asked of both. A part of the page of a comparison.
#pragma once

#include "cli/compare_result.hpp"
#include "cli/compare_run.hpp"
#include "cli/page.hpp"

namespace detent::cli {

[[nodiscard]] constexpr const char* letter(std::size_t side) {
  return side == dsl::side_a ? "A" : "B";
}

/// Begins with an empty line; empty where neither design claims anything.
[[nodiscard]] Page compared_claims_page(const CompareResult& result, const CompareWishes& wishes,
                                        const Terminal& terminal);

}  // namespace detent::cli
