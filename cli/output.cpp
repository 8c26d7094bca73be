// A pipe whose reader has seen enough is no reason to complain; a full disk is.
#include "cli/output.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <string_view>
#include <system_error>

namespace detent::cli {
namespace {

/// The error number of the first write that failed, or 0.
int write_all(int stream, std::string_view text) {
  while (!text.empty()) {
    const ssize_t count = write(stream, text.data(), text.size());
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) return errno;
    text.remove_prefix(static_cast<std::size_t>(count));
  }
  return 0;
}

bool is_worth_a_word(int error) {
  return error != EPIPE && error != EBADF;
}

}  // namespace

int deliver(const CommandResult& result) {
  const int error = write_all(STDOUT_FILENO, result.output);
  std::string errors = result.errors;
  if (error != 0 && is_worth_a_word(error)) {
    errors += fmt::format("detent: standard output: {}\n", std::generic_category().message(error));
  }
  // Where even standard error is gone, the exit status is all that is left to say.
  static_cast<void>(write_all(STDERR_FILENO, errors));
  const bool lost = error != 0 && result.status == Status::all_hold;
  return static_cast<int>(lost ? Status::input_wrong : result.status);
}

}  // namespace detent::cli
