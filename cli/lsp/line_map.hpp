// Places as LSP 3.17 counts them: lines from 0, which end in "\n", "\r\n" or "\r", and within a line bytes
// (utf-8) or UTF-16 code units.
#pragma once

#include <compare>
#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

#include "cli/lsp/message.hpp"

namespace detent::cli::lsp {

enum class Encoding { utf16, utf8 };

struct Position {
  std::uint32_t line = 0;
  std::uint32_t character = 0;
  friend auto operator<=>(const Position&, const Position&) = default;
};

/// Where the lines of one text begin.
class LineMap {
 public:
  explicit LineMap(std::string_view text);

  /// What lies behind the end of its line counts as that end, a line behind the last as the end of the text,
  /// and a place inside of a character as the character's begin.
  [[nodiscard]] std::size_t offset(std::string_view text, Position position, Encoding encoding) const;
  [[nodiscard]] Position position(std::string_view text, std::size_t offset, Encoding encoding) const;
  /// The offset behind the last character of this line, without its line end.
  [[nodiscard]] std::size_t line_end(std::string_view text, std::size_t line) const;
  [[nodiscard]] std::size_t lines() const { return starts_.size(); }
  [[nodiscard]] std::size_t line_of(std::size_t offset) const;

 private:
  std::vector<std::size_t> starts_;
};

[[nodiscard]] Position read_position(const Json& json);
[[nodiscard]] Json json_of(Position position);
[[nodiscard]] Json json_range(Position begin, Position end);

}  // namespace detent::cli::lsp
