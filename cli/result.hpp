// What a command answers: what goes to standard output, what goes to standard error, and the exit status.
// Commands return it; only main's end writes it, so that every command can be tested as a function.
#pragma once

#include <string>

namespace detent::cli {

/// The exit status is an interface: scripts decide by it.
enum class Status : int {
  all_hold = 0,     ///< every claim holds as far as was looked, or could be shown
  refuted = 1,      ///< at least one claim is refuted
  input_wrong = 2,  ///< the text or the command line is wrong, or the output could not be written
  undecided = 3,    ///< nothing is refuted, but a limit was reached before every claim was decided
  own_fault = 4,    ///< two readings of the same design disagree: the fault is in this program
};

struct CommandResult {
  std::string output = {};
  std::string errors = {};
  Status status = Status::all_hold;
  std::string command = {};  ///< the command in use, for messages; "" for none
};

/// `detent: WHAT` and, on a second line, the mend: the manner of every message about the command line.
[[nodiscard]] CommandResult usage_error(const std::string& what, const std::string& mend);

}  // namespace detent::cli
