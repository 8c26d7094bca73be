// What reading, waiting and completing in `detent step` have in common: the commands by their names, and how
// a command is said to be understood or not.
#pragma once

#include "cli/step_command.hpp"

namespace detent::cli {

[[nodiscard]] Reading<Command> wrong(std::string problem, std::string mend);
[[nodiscard]] Reading<Command> good(Command command);

/// In quotes; a long text only as far as it says what is meant.
[[nodiscard]] std::string quoted(std::string_view text);

/// The first word; the rest is left in `text`.
std::string_view take_word(std::string_view& text);

[[nodiscard]] std::vector<std::string> claim_names(const dsl::Model& model);
[[nodiscard]] std::optional<std::uint32_t> claim_called(const dsl::Model& model, std::string_view name);

/// "next", "rest", … in the order of the help.
[[nodiscard]] std::vector<std::string> command_names();
[[nodiscard]] std::optional<Command::Kind> command_called(std::string_view name);

}  // namespace detent::cli
