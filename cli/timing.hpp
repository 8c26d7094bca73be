// A run as a timing diagram in line characters: a row a signal, a column a moment, quiet time drawn short.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "cli/page.hpp"
#include "dsl/model.hpp"
#include "solver/run.hpp"

namespace detent::cli {

struct DiagramWishes {
  std::vector<std::uint32_t> signals;  ///< indices into Model::signals, a row each
  std::string mark;                    ///< what happens in the last tick: "the claim breaks here"
  Style mark_style = Style::bad;
  std::string indent = {};
};

/// At most as wide as the terminal: where there are too many moments, the first are cut, and it says so.
[[nodiscard]] Page timing_diagram(const dsl::Model& model, const solver::Trace& trace,
                                  const DiagramWishes& wishes, const Terminal& terminal);

}  // namespace detent::cli
