#include "dsl/text.hpp"

namespace detent::dsl {

std::string one_line(std::string_view text) {
  std::string line;
  bool gap = false;
  for (std::size_t index = 0; index < text.size(); ++index) {
    if (text.substr(index, 2) == "//") {
      index = std::min(text.find('\n', index), text.size());
    }
    const bool space =
        index >= text.size() || text[index] == ' ' || (text[index] >= '\t' && text[index] <= '\r');
    if (!space) {
      line += gap && !line.empty() ? " " : "";
      line += text[index];
    }
    gap = space;
  }
  return line;
}

}  // namespace detent::dsl
