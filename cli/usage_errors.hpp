// What CLI11 finds wrong with a command line, in this program's manner: what was seen, and the mend.
#pragma once

#include <string>

#include "cli/result.hpp"

namespace CLI {
class App;
class ParseError;
}  // namespace CLI

namespace detent::cli {

/// The command that was written on this line; "" if none was.
[[nodiscard]] std::string command_of(const CLI::App& line);

/// A word too many, an option or a command that is not there. `line` must have something left over.
[[nodiscard]] CommandResult unexpected(const CLI::App& line);
/// A file or an option that the command can't do without.
[[nodiscard]] CommandResult missing(const CLI::App& line, const CLI::ParseError& error);
/// An option without its value, with two of them, and whatever else can be wrong.
[[nodiscard]] CommandResult misused(const CLI::App& line, const CLI::ParseError& error);

}  // namespace detent::cli
