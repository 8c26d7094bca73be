#include "cli/answers.hpp"

#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>

#include "cli/lesson_lines.hpp"

namespace detent::cli {

std::optional<std::string> Answers::next() {
  std::string line;
  while (true) {
    const std::size_t end = rest_.find('\n');
    const std::string_view piece = std::string_view(rest_).substr(0, std::min(end, rest_.size()));
    line.append(piece.substr(0, longest - line.size()));
    if (end != std::string::npos) {
      rest_.erase(0, end + 1);
      return std::string(trimmed_view(line));
    }
    rest_.clear();
    std::array<char, 4096> block{};
    const ssize_t count = over_ ? 0 : read(STDIN_FILENO, block.data(), block.size());
    if (count < 0 && errno == EINTR) continue;
    if (count > 0) {
      rest_.assign(block.data(), static_cast<std::size_t>(count));
      continue;
    }
    over_ = true;
    if (line.empty()) return std::nullopt;
    return std::string(trimmed_view(line));
  }
}

bool Answers::is_person() {
  return isatty(STDIN_FILENO) == 1 && isatty(STDOUT_FILENO) == 1;
}

}  // namespace detent::cli
