// Finding a claim by its name.
#pragma once

#include <cstdint>
#include <string>
#include <variant>

#include "cli/result.hpp"
#include "dsl/model.hpp"

namespace detent::cli {

/// The claim's index, or a message that names the nearest, for an option or a command called `option`.
[[nodiscard]] std::variant<std::uint32_t, CommandResult> choose_claim(const std::string& option,
                                                                      const std::string& name,
                                                                      const dsl::Model& model);

}  // namespace detent::cli
