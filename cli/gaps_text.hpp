// The study of gaps as a page.
#pragma once

#include <string>

#include "cli/gap_study.hpp"
#include "cli/page.hpp"
#include "cli/terminal.hpp"
#include "dsl/front.hpp"

namespace detent::cli {

/// `allowed`: how long each claim could take, in words.
[[nodiscard]] Page gaps_page(const dsl::Compiled& compiled, const GapStudy& study, const std::string& allowed,
                             const Terminal& terminal);

}  // namespace detent::cli
