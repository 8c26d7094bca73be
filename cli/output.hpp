// Writing to the process's own streams, where a reader may have gone away.
#pragma once

#include <string>
#include <string_view>

#include "cli/result.hpp"

namespace detent::cli {

/// A stream that the caller has closed stays closed: no file that is opened later takes its number and gets
/// what was meant for the stream. To be called first of all.
void keep_streams_apart();

/// Writes to standard output at once, for a command that talks while it goes on. 0, or the number of the
/// error.
[[nodiscard]] int try_print(std::string_view text);
/// The same; whether it could be written.
[[nodiscard]] bool print(std::string_view text);

/// How a command ends where try_print() failed with this error: with a complaint, unless nobody reads any
/// more.
[[nodiscard]] CommandResult unprinted(int error, const std::string& command);

/// Writes both texts and returns the exit status: the result's own, or input_wrong where the output could not
/// be written (where its reader went away: only if it would be success).
[[nodiscard]] int deliver(const CommandResult& result);

/// Writes the whole text to an open file. 0, or the number of the error of the first write that failed.
[[nodiscard]] int write_all(int file, std::string_view text);

}  // namespace detent::cli
