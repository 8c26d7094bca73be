#include "cli/help_parts.hpp"

#include <fmt/format.h>

namespace detent::cli {

std::string limit_options() {
  return R"(  --total-timeout TIME  for all of it together, for example 5min; what is known
                        by then is told, the rest is undecided
  --memory AMOUNT       the most memory to use, for example 2GiB
  --jobs N              work with N threads; if not said, as many as the machine
                        has cores
)";
}

std::string page_options(const std::string& command) {
  return fmt::format(R"(  --format text|json    a page for people, or everything for programs
                        (the form is laid down in {}.schema.json)
  --width N             columns of the page; else those of the terminal, or 80
  --color WHEN          auto, always or never; auto heeds NO_COLOR
)",
                     command);
}

}  // namespace detent::cli
