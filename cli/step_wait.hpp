// `until …` in `detent step`: what is waited for, understood and looked for.
#pragma once

#include "cli/step_command.hpp"

namespace detent::cli {

/// What stands behind `until`.
[[nodiscard]] Reading<Command> read_until(const dsl::Model& model, std::string_view text);

[[nodiscard]] Stop stop_for(const dsl::Model& model, const Command::Wait& wait);

/// "live is on already", where it need not be waited for; else "".
[[nodiscard]] std::string already_words(const dsl::Model& model, const Command::Wait& wait,
                                        const Session& session);

}  // namespace detent::cli
