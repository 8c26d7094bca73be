// Messages about the command line.
#include "cli/result.hpp"

#include <fmt/format.h>

#include "cli/page.hpp"

namespace detent::cli {

CommandResult usage_error(const std::string& what, const std::string& mend) {
  std::string message = fmt::format("detent: {}\n", printable(what, true));
  if (!mend.empty()) message += fmt::format("  mend: {}\n", printable(mend, true));
  return {.errors = std::move(message), .status = Status::input_wrong};
}

}  // namespace detent::cli
