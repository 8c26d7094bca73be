// A run as a value change dump, for any waveform viewer.
#pragma once

#include <string>

#include "dsl/model.hpp"
#include "solver/run.hpp"

namespace detent::cli {

/// Conditions are wires; positions and stages integers, counted from 0; levels integers in their smallest
/// unit (a comment says which), negative ones as two's complement of 64 bits. Parts in use are scopes. Time
/// is in microseconds, and the last time is the end of the last tick. (IEEE 1364-2005 clause 18, as
/// reproduced in secondary sources.)
[[nodiscard]] std::string vcd_text(const dsl::Model& model, const solver::Run& run);

}  // namespace detent::cli
