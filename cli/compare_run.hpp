// A run of two designs on one time axis: story, and one diagram with the rows of both.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "cli/page.hpp"
#include "dsl/model.hpp"
#include "solver/run.hpp"

namespace detent::cli {

struct CompareWishes {
  bool brief = false;  ///< no runs
  bool figures = true;
  bool all_signals = false;
  bool statistics = false;
};

struct SharedRun {
  const dsl::Model& model;  ///< of both side by side
  const solver::Run& run;
  dsl::NodeId about = dsl::no_node;       ///< what the run leads to
  std::vector<std::uint32_t> names = {};  ///< signals that are told and drawn in any case
  std::string ending = {};                ///< the last sentence
  std::string mark = {};                  ///< what happens in the last tick, for the diagram; "": no diagram
  Style mark_style = Style::bad;
  bool all_signals = false;
};

/// What is chosen to be told and drawn is chosen as for a claim about the same condition: this one.
[[nodiscard]] dsl::Claim claim_about(const SharedRun& shared);

[[nodiscard]] Page shared_run_page(const SharedRun& shared, const std::string& indent,
                                   const Terminal& terminal);

}  // namespace detent::cli
