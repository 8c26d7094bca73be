// A run as places: at each moment the lines of what moves, in the order of time.
#pragma once

#include <string>
#include <vector>

#include "dsl/model.hpp"
#include "solver/run.hpp"

namespace detent::cli::lsp {

struct RunPlace {
  dsl::Place place;
  std::string text;  ///< "0.5 s, tick 10: you move rudder to -100 %"
};

/// Of a run that ends in what the claim's verdict rests on. Very long runs leave out what is in their middle,
/// and say so.
[[nodiscard]] std::vector<RunPlace> places_of_run(const dsl::Model& model, const dsl::Claim& claim,
                                                  const solver::Run& run);

}  // namespace detent::cli::lsp
