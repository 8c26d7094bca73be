// Exceptions to results.
#include "cli/guarded.hpp"

#include <fmt/format.h>

#include <exception>
#include <new>

#include "cli/page.hpp"
#include "solver/verdict.hpp"

namespace detent::cli {
namespace {

CommandResult own_fault(const std::string& what) {
  return {
      .errors = fmt::format("detent has found a fault in itself: {}\n"
                            "No verdict of this check can be trusted. Please report it with the design.\n",
                            printable(what, true)),
      .status = Status::own_fault};
}

CommandResult no_memory() {
  return {.errors =
              "detent: there is not enough memory; nothing was decided\n"
              "  mend: look at fewer ticks (--within), or at one claim at a time (--claim)\n",
          .status = Status::undecided};
}

}  // namespace

CommandResult guarded(const std::function<CommandResult()>& command) {
  try {
    return command();
  } catch (const solver::InternalDisagreement& disagreement) {
    return own_fault(disagreement.what());
  } catch (const std::bad_alloc&) {
    return no_memory();
  } catch (const std::exception& error) {
    return own_fault(error.what());
  }
}

}  // namespace detent::cli
