// Which solver this program runs on.
#pragma once

#include <string>

namespace detent::solver {

/// "4.8.12.0": the version that the library itself reports when the program runs.
[[nodiscard]] std::string solver_version();

/// The version of the header that this program was compiled with. Another one at run time is allowed as long as the
/// library can be loaded at all, but should be said.
[[nodiscard]] std::string compiled_solver_version();

}  // namespace detent::solver
