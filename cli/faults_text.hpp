// The study of faults as a page: a table of faults and claims, runs where they are wanted, and what it comes
// to.
#pragma once

#include <string>
#include <vector>

#include "cli/fault_study.hpp"
#include "cli/page.hpp"
#include "cli/terminal.hpp"
#include "dsl/front.hpp"

namespace detent::cli {

struct FaultsPageWishes {
  bool runs = false;         ///< also show the run of every claim that falls
  std::string allowed = {};  ///< how long each claim could take, in words
};

[[nodiscard]] Page faults_page(const dsl::Compiled& compiled, const FaultStudy& study,
                               const FaultsPageWishes& wishes, const Terminal& terminal);

}  // namespace detent::cli
