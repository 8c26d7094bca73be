// Lines that somebody types, or that a file or a pipe holds, one at a time.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

namespace detent::cli {

/// Reads standard input; what was read beyond a line is kept for the next.
class Answers {
 public:
  /// The next line without its end and without blanks around it; nothing at the end of the input, or where it
  /// can't be read. What is longer than `longest` bytes is cut off there.
  [[nodiscard]] std::optional<std::string> next();

  /// Whether somebody sits there and types.
  [[nodiscard]] static bool is_person();

  static constexpr std::size_t longest = 4000;

 private:
  std::string rest_;
  bool over_ = false;
};

}  // namespace detent::cli
