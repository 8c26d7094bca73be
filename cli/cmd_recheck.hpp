// detent recheck: the proofs in a folder of evidence, put to a solver of the user's choice.
#pragma once

#include <optional>
#include <string>

#include "cli/result.hpp"

namespace detent::cli {

struct RecheckOptions {
  std::string folder;
  std::string solver;                       ///< a command; the file's name is added to it
  std::optional<std::string> timeout = {};  ///< for each question
};

[[nodiscard]] CommandResult recheck(const RecheckOptions& options);

}  // namespace detent::cli
