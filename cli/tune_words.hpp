// Words for what tuning finds, shared by the parts of its page.
#pragma once

#include <string>

#include "cli/page.hpp"
#include "cli/tune_study.hpp"
#include "dsl/front.hpp"

namespace detent::cli {

[[nodiscard]] std::string standing_words(solver::Standing standing);
[[nodiscard]] Style style_of(solver::Standing standing);
[[nodiscard]] std::string limit_reason(solver::Limit limit);

/// "3 s" of one tunable; "open 3 s, wait 4 s" of two.
[[nodiscard]] std::string point_words(const TuneStudy& study, std::size_t point, std::int64_t tick_us);

/// How many values these are, and what breaks there, or why it is no design.
[[nodiscard]] std::string remark_words(const TuneStudy& study, const dsl::Compiled& compiled,
                                       const TuneInterval& interval);

}  // namespace detent::cli
