// A pipe whose reader has seen enough is no reason to complain; a full disk is.
#include "cli/output.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <string_view>
#include <system_error>

namespace detent::cli {
namespace {

std::string mend_for(int error, const std::string& command) {
  switch (error) {
    case ENOSPC:
    case EDQUOT:
      return "make room on the disk, or write the output somewhere else";
    case EFBIG:
      return "allow larger files (ulimit -f), or write the output somewhere else";
    case EBADF:
      return fmt::format("leave standard output open, or send it to a file: detent {} > report.txt",
                         command.empty() ? "..." : command + " ...");
    default:
      return "write the output somewhere else";
  }
}

std::string complaint(int error, const std::string& command) {
  const std::string what =
      error == EBADF ? "it is closed, so nothing can be told" : std::generic_category().message(error);
  return fmt::format("detent: standard output: {}\n  mend: {}\n", what, mend_for(error, command));
}

}  // namespace

void keep_streams_apart() {
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
    if (fcntl(stream, F_GETFD) >= 0) continue;
    // The lowest free number is this stream's. Opened the wrong way round, so that using it still fails.
    static_cast<void>(open("/dev/null", stream == STDIN_FILENO ? O_WRONLY : O_RDONLY));
  }
}

int write_all(int file, std::string_view text) {
  while (!text.empty()) {
    const ssize_t count = write(file, text.data(), text.size());
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) return errno;
    text.remove_prefix(static_cast<std::size_t>(count));
  }
  return 0;
}

int try_print(std::string_view text) {
  return write_all(STDOUT_FILENO, text);
}

bool print(std::string_view text) {
  return try_print(text) == 0;
}

CommandResult unprinted(int error, const std::string& command) {
  return {.errors = error == EPIPE ? "" : complaint(error, command), .status = Status::input_wrong};
}

int deliver(const CommandResult& result) {
  const int error = write_all(STDOUT_FILENO, result.output);
  std::string errors = result.errors;
  if (error != 0 && error != EPIPE) errors += complaint(error, result.command);
  // Where even standard error is gone, the exit status is all that is left to say.
  static_cast<void>(write_all(STDERR_FILENO, errors));
  // Nobody has read the verdict, so the status must not look like one. A reader that has gone away has read
  // what it wanted: only success is not told to it.
  const bool untold = error == EPIPE ? result.status == Status::all_hold : result.status != Status::own_fault;
  const bool lost = error != 0 && untold;
  return static_cast<int>(lost ? Status::input_wrong : result.status);
}

}  // namespace detent::cli
