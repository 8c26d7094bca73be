#include "cli/lesson_lines.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace detent::cli {
namespace {

constexpr std::string_view blanks = " \t\r";

std::string without_end_blanks(std::string_view text) {
  const std::size_t last = text.find_last_not_of(blanks);
  return std::string(text.substr(0, last == std::string_view::npos ? 0 : last + 1));
}

std::vector<std::string> texts_of(const std::vector<NumberedLine>& lines) {
  std::vector<std::string> texts;
  for (const NumberedLine& line : lines) texts.push_back(line.text);
  return texts;
}

/// Where the lines stand in the text, by index; exactly one place, or a problem.
std::size_t place_of(const std::vector<std::string>& removed, const std::vector<std::string>& text,
                     std::size_t line) {
  std::vector<std::size_t> places;
  for (auto at = text.begin(); at != text.end();
       places.push_back(static_cast<std::size_t>(at++ - text.begin()))) {
    at = std::search(at, text.end(), removed.begin(), removed.end());
    if (at == text.end()) break;
  }
  if (places.size() == 1) return places.front();
  throw LessonProblem{line,
                      fmt::format("'{}' stands {} in the design that is mended", removed.front(),
                                  places.empty() ? "nowhere" : "more than once"),
                      "copy the line from there, blanks and all"};
}

bool is_change(const NumberedLine& line, char mark) {
  return line.text.size() > 2 && line.text[0] == mark && line.text[1] == ' ';
}

/// Each group of `-` lines with the `+` lines below it, not yet looked for.
std::vector<std::pair<LessonChange, std::size_t>> changes_in(const std::vector<NumberedLine>& body) {
  std::vector<std::pair<LessonChange, std::size_t>> groups;
  for (std::size_t index = 0; index < body.size();) {
    auto& [change, number] = groups.emplace_back();
    number = body[index].number;
    for (; index < body.size() && is_change(body[index], '-'); ++index)
      change.removed.push_back(body[index].text.substr(2));
    for (; index < body.size() && is_change(body[index], '+'); ++index)
      change.added.push_back(body[index].text.substr(2));
    if (change.removed.empty())
      throw LessonProblem{index < body.size() ? body[index].number : number,
                          "this line of a mend is neither taken out nor put in",
                          "write - OLD LINE and below it + NEW LINE"};
  }
  return groups;
}

}  // namespace

std::vector<NumberedLine> numbered_lines(std::string_view text) {
  std::vector<NumberedLine> lines;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    lines.push_back({lines.size() + 1, without_end_blanks(text.substr(0, end))});
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

std::string_view trimmed_view(std::string_view text) {
  const std::size_t first = text.find_first_not_of(blanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

std::vector<std::string> parted(std::string_view text, char separator) {
  std::vector<std::string> pieces;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(separator), text.size());
    if (const std::string_view piece = trimmed_view(text.substr(0, end)); !piece.empty())
      pieces.emplace_back(piece);
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return pieces;
}

bool is_plain_name(std::string_view name) {
  return !name.empty() &&
         name.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789_") == std::string_view::npos;
}

MendedText mend_text(const std::string& before, const std::vector<NumberedLine>& body) {
  std::vector<std::string> lines = texts_of(numbered_lines(before));
  const std::vector<std::string> original = lines;
  MendedText mended;
  for (auto& [change, number] : changes_in(body)) {
    change.line = place_of(change.removed, original, number) + 1;
    const auto at = lines.begin() + static_cast<std::ptrdiff_t>(place_of(change.removed, lines, number));
    const auto after = lines.erase(at, at + static_cast<std::ptrdiff_t>(change.removed.size()));
    lines.insert(after, change.added.begin(), change.added.end());
    mended.changes.push_back(std::move(change));
  }
  for (const std::string& line : lines) mended.text += line + '\n';
  return mended;
}

}  // namespace detent::cli
