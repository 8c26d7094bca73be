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
  return page_options("text|json",
                      fmt::format("a page for people, or everything for programs\n"
                                  "                        (the form is laid down in {}.schema.json)",
                                  command));
}

std::string page_options(const std::string& formats, const std::string& explained) {
  const std::string option = "  --format " + formats;
  const std::string gap =
      option.size() < 23 ? std::string(24 - option.size(), ' ') : "\n" + std::string(24, ' ');
  return option + gap + explained + R"(
  --width N             columns of the page; else those of the terminal, or 80
  --color WHEN          auto, always or never; auto heeds NO_COLOR
)";
}

}  // namespace detent::cli
