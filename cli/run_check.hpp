// `detent check FILE --run RUN`: a run from a file, and what every claim says of it.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "cli/options.hpp"
#include "cli/result.hpp"
#include "cli/run_judge.hpp"
#include "cli/settings.hpp"
#include "dsl/front.hpp"

namespace detent::cli {

/// The text of a file with a run, or a message that names `option`.
[[nodiscard]] std::variant<std::string, CommandResult> read_run_file(const std::string& option,
                                                                     const std::string& path);

/// That the run does what the design takes for granted never to happen.
[[nodiscard]] CommandResult unkept_result(const CheckOptions& options, const dsl::Compiled& compiled,
                                          const Unkept& unkept);

/// `compiled` has a model. `claims`: those asked for, none for all.
[[nodiscard]] CommandResult check_run(const CheckOptions& options, const Settings& settings,
                                      const dsl::Compiled& compiled, std::vector<std::uint32_t> claims);

}  // namespace detent::cli
