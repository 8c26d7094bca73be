// detent why: what a proof rests on, or what led to a broken claim.
#pragma once

#include <optional>
#include <string>

#include "cli/result.hpp"

namespace detent::cli {

struct WhyOptions {
  std::string file;
  std::string claim;
  std::string format = "text";
  std::optional<std::string> timeout = {};
};

[[nodiscard]] CommandResult why(const WhyOptions& options);

}  // namespace detent::cli
