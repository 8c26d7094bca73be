// What was found of the values of tunables, as a page.
#pragma once

#include "cli/page.hpp"
#include "cli/tune_study.hpp"

namespace detent::cli {

struct TunePageWishes {
  bool all_signals = false;
  bool statistics = false;
};

[[nodiscard]] Page tune_page(const TuneResult& result, const TunePageWishes& wishes,
                             const Terminal& terminal);

/// "3 s" of one tunable; "open 3 s, wait 4 s" of two.
[[nodiscard]] std::string point_words(const TuneStudy& study, std::size_t point, std::int64_t tick_us);

}  // namespace detent::cli
