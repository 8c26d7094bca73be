#include "cli/cmd_new.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cerrno>
#include <system_error>

#include "cli/page.hpp"
#include "cli/starting_designs.hpp"
#include "cli/terminal.hpp"
#include "cli/whole_file.hpp"
#include "dsl/diagnostics.hpp"

namespace detent::cli {
namespace {

constexpr std::size_t page_width = 80;

std::string list_text() {
  const std::vector<StartingDesign> designs = starting_designs();
  std::size_t widest = 0;
  for (const StartingDesign& one : designs) widest = std::max(widest, one.name.size());
  std::string text = "Safety functions to start from:\n\n";
  for (const StartingDesign& one : designs) {
    std::string left = fmt::format("  {:<{}}  ", one.name, widest);
    for (const std::string& line : wrapped(one.title, page_width - left.size())) {
      text += left + line + '\n';
      left.assign(left.size(), ' ');
    }
  }
  return text +
         "\nOne of them as a design of your own, to be changed:\n"
         "  detent new --from emergency_stop -o my_stop.detent\n";
}

CommandResult unknown(const std::string& name) {
  std::vector<std::string> names;
  for (const StartingDesign& one : starting_designs()) names.emplace_back(one.name);
  const std::string near = dsl::nearest_name(name, names);
  return usage_error(fmt::format("new: there is no safety function '{}'", name),
                     near.empty() ? "detent new lists them" : fmt::format("did you mean '{}'?", near));
}

CommandResult cannot_write(const std::string& file, int error) {
  if (error == EEXIST) {
    return usage_error(fmt::format("new: '{}' is there already, and stays as it is", file),
                       "name another file: -o FILE");
  }
  return usage_error(fmt::format("new: can't write '{}': {}", file, std::generic_category().message(error)),
                     "name a file in a folder that can be written to, on a disk with room: -o FILE");
}

/// As it is typed in a shell: in quotes where it needs them.
std::string as_typed(const std::string& file) {
  const auto plain = [](unsigned char letter) {
    return std::isalnum(letter) != 0 || letter == '.' || letter == '/' || letter == '_' || letter == '-';
  };
  return std::all_of(file.begin(), file.end(), plain) ? file : fmt::format("'{}'", file);
}

}  // namespace

CommandResult new_design(const NewOptions& options) {
  if (!options.from) {
    if (options.file)
      return usage_error("new: -o needs a function to write", "write: detent new --from FUNCTION -o FILE");
    return {.output = list_text()};
  }
  const std::optional<std::string> text = starting_text(*options.from);
  if (!text) return unknown(*options.from);
  if (options.file == "-") return {.output = *text};
  const std::string file = options.file.value_or(*options.from + ".detent");
  if (const int error = write_new_file(file, *text)) return cannot_write(file, error);
  const bool unicode = choose_terminal({}, look_around(1)).unicode;
  return {.output = fmt::format(
              "Written: {}\n"
              "  detent check {}     checks it as it is\n"
              "A proof is about the model, not the wiring: blade or propeller off on the bench.\n",
              printable(file, unicode), printable(as_typed(file), unicode))};
}

}  // namespace detent::cli
