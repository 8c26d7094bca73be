// Lines that both texts have stay (a longest common subsequence, as in Hunt and McIlroy, 1976; from memory).
// Of the lines between two that stay, pair by pair only what differs is replaced.
#include "cli/lsp/text_edits.hpp"

#include <algorithm>
#include <cstdint>

namespace detent::cli::lsp {
namespace {

using Lines = std::vector<std::string_view>;

/// Pairs of lines that are looked at; more differences than that become one edit.
constexpr std::size_t largest_table = 4'000'000;

Lines lines_of(std::string_view text) {
  Lines lines;
  while (!text.empty()) {
    const std::size_t size = std::min(text.find('\n'), text.size() - 1) + 1;
    lines.push_back(text.substr(0, size));
    text.remove_prefix(size);
  }
  return lines;
}

/// Of UTF-8, or of the two that end a line.
bool is_inside_character(std::string_view text, std::size_t at) {
  if (at == 0 || at >= text.size()) return false;
  const bool line_end = text[at - 1] == '\r' && text[at] == '\n';
  return line_end || (static_cast<unsigned char>(text[at]) & 0xC0U) == 0x80U;
}

class Differ {
 public:
  Differ(std::string_view before, std::string_view after)
      : text_(before), before_(lines_of(before)), after_(lines_of(after)) {}

  std::vector<TextEdit> run() {
    std::size_t begin = 0;
    std::size_t end_before = before_.size();
    std::size_t end_after = after_.size();
    while (begin < std::min(end_before, end_after) && before_[begin] == after_[begin]) ++begin;
    while (std::min(end_before, end_after) > begin && before_[end_before - 1] == after_[end_after - 1]) {
      --end_before;
      --end_after;
    }
    const std::size_t rows = end_before - begin;
    const std::size_t columns = end_after - begin;
    if (rows != 0 && columns > largest_table / rows) {
      replace(begin, end_before, begin, end_after);
    } else {
      walk(begin, end_before, end_after);
    }
    return std::move(edits_);
  }

 private:
  void walk(std::size_t begin, std::size_t end_before, std::size_t end_after) {
    const std::size_t rows = end_before - begin;
    const std::size_t columns = end_after - begin;
    std::vector<std::uint32_t> longest((rows + 1) * (columns + 1), 0);
    const auto at = [&](std::size_t row, std::size_t column) -> std::uint32_t& {
      return longest[row * (columns + 1) + column];
    };
    for (std::size_t row = rows; row-- > 0;) {
      for (std::size_t column = columns; column-- > 0;) {
        const bool same = before_[begin + row] == after_[begin + column];
        at(row, column) =
            same ? at(row + 1, column + 1) + 1 : std::max(at(row + 1, column), at(row, column + 1));
      }
    }
    std::size_t row = 0, column = 0, from_row = 0, from_column = 0;
    while (row < rows && column < columns) {
      if (before_[begin + row] == after_[begin + column]) {
        replace(begin + from_row, begin + row, begin + from_column, begin + column);
        from_row = ++row;
        from_column = ++column;
      } else if (at(row + 1, column) >= at(row, column + 1)) {
        ++row;
      } else {
        ++column;
      }
    }
    replace(begin + from_row, end_before, begin + from_column, end_after);
  }

  [[nodiscard]] std::size_t offset_of(std::size_t line) const {
    return line == before_.size() ? text_.size()
                                  : static_cast<std::size_t>(before_[line].data() - text_.data());
  }

  /// Line by line where there are as many.
  void replace(std::size_t row, std::size_t end_row, std::size_t column, std::size_t end_column) {
    if (end_row - row == end_column - column) {
      for (; row < end_row; ++row, ++column)
        narrow(offset_of(row), before_[row], std::string(after_[column]));
      return;
    }
    std::string text;
    for (; column < end_column; ++column) text += after_[column];
    const std::size_t begin = offset_of(row);
    narrow(begin, text_.substr(begin, offset_of(end_row) - begin), std::move(text));
  }

  /// Leaves out what is the same at both ends.
  void narrow(std::size_t begin, std::string_view old, std::string text) {
    std::size_t front = 0;
    while (front < std::min(old.size(), text.size()) && old[front] == text[front]) ++front;
    while (is_inside_character(old, front) || is_inside_character(text, front)) --front;
    std::size_t back = 0;
    while (back < std::min(old.size(), text.size()) - front &&
           old[old.size() - 1 - back] == text[text.size() - 1 - back]) {
      ++back;
    }
    while (back > 0 && (is_inside_character(old, old.size() - back))) --back;
    if (old == text) return;
    edits_.push_back(
        {begin + front, begin + old.size() - back, text.substr(front, text.size() - back - front)});
  }

  std::string_view text_;
  Lines before_, after_;
  std::vector<TextEdit> edits_;
};

}  // namespace

std::vector<TextEdit> edits_between(std::string_view before, std::string_view after) {
  return Differ(before, after).run();
}

}  // namespace detent::cli::lsp
