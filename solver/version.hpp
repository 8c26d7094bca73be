// Which solver this program runs on.
#pragma once

#include <string>

namespace detent::solver {

/// "4.8.12.0": the version that the library itself reports when the program runs.
[[nodiscard]] std::string solver_version();

}  // namespace detent::solver
