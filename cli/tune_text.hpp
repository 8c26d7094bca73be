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

}  // namespace detent::cli
