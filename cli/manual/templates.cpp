#include "cli/manual/templates.hpp"

#include <sstream>

namespace detent::cli::manual {

std::string filled(std::string_view script, const std::map<std::string, std::string>& rows) {
  std::istringstream lines{std::string(script)};
  std::string text;
  for (std::string line; std::getline(lines, line);) {
    const std::size_t mark = line.find("#: ");
    if (mark == std::string::npos) {
      text += line + '\n';
      continue;
    }
    std::istringstream more(rows.at(line.substr(mark + 3)));
    for (std::string row; std::getline(more, row);)
      text += row.empty() ? "\n" : line.substr(0, mark) + row + '\n';
  }
  return text;
}

}  // namespace detent::cli::manual
