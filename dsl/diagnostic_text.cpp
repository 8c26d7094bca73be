// A diagnostic as a person reads it: file, line and column, the message, the line itself with the place
// marked, the mend, and the notes. Whatever a file holds, what is shown is safe for a terminal.
#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "dsl/diagnostics.hpp"
#include "dsl/utf8.hpp"

namespace detent::dsl {
namespace {

constexpr std::size_t widest_line = 110;
constexpr std::size_t most_before_place = 70;  ///< columns of a long line that are kept before the place

/// One character as it is shown, with the columns it takes.
struct Cell {
  std::string shown;
  std::size_t width = 1;
};

Cell cell_at(std::string_view line, std::size_t at, const Character& character) {
  if (line[at] == '\t') return {" ", 1};
  if (is_unprintable(character)) return {"\xEF\xBF\xBD", 1};
  return {std::string(line.substr(at, character.size)), static_cast<std::size_t>(columns(character.code))};
}

/// The columns from `begin` to `end` of a line (byte offsets), counted as they are shown.
std::size_t width_between(std::string_view line, std::size_t begin, std::size_t end) {
  std::size_t width = 0;
  for (std::size_t at = begin; at < end;) {
    const Character character = character_at(line, at);
    width += cell_at(line, at, character).width;
    at += character.size;
  }
  return width;
}

/// The byte at which to begin so that at most `room` characters stand before `at`.
std::size_t back_by(std::string_view line, std::size_t at, std::size_t room) {
  while (at > 0 && room > 0) {
    --at;
    while (at > 0 && (static_cast<unsigned char>(line[at]) & 0xC0U) == 0x80U) --at;
    --room;
  }
  return at;
}

struct Excerpt {
  std::string shown;
  std::string marks;
};

/// The part of a line round a place that fits the width, with the place marked below it.
Excerpt excerpt(std::string_view line, std::size_t begin, std::size_t end) {
  Excerpt made;
  constexpr std::size_t most_bytes = 4 * widest_line;  // a line of more is not measured, only cut
  const bool fits = line.size() <= most_bytes && width_between(line, 0, line.size()) <= widest_line;
  const std::size_t first = fits ? 0 : back_by(line, begin, most_before_place);
  std::size_t width = 0;
  if (first > 0) {
    made.shown = "…";
    width = 1;
  }
  std::size_t marked_from = width;
  std::size_t marked_to = width;
  std::size_t at = first;
  while (at < line.size()) {
    const Character character = character_at(line, at);
    const Cell cell = cell_at(line, at, character);
    if (!fits && width + cell.width >= widest_line) break;
    if (at < begin) marked_from = width + cell.width;
    if (at < std::max(begin, end)) marked_to = width + cell.width;
    made.shown += cell.shown;
    width += cell.width;
    at += character.size;
  }
  if (at < line.size()) made.shown += "…";
  made.marks =
      std::string(marked_from, ' ') + std::string(std::max<std::size_t>(1, marked_to - marked_from), '^');
  return made;
}

std::string excerpt_text(const Place& place, const Sources& sources) {
  const std::string_view line = sources.line_text(place);
  if (line.empty()) return {};
  const auto start = static_cast<std::size_t>(line.data() - sources.text(place.file).data());
  const std::size_t begin = std::min(place.begin - start, line.size());
  const std::size_t end = std::min(std::max(place.end, place.begin) - start, line.size());
  const Excerpt shown = excerpt(line, begin, end);
  const std::string number = std::to_string(sources.line_column(place).line);
  const std::string margin(number.size(), ' ');
  return fmt::format("  {} | {}\n  {} | {}\n", number, shown.shown, margin, shown.marks);
}

std::string heading(const Place& place, const Sources& sources) {
  const LineColumn where = sources.line_column(place);
  return fmt::format("{}:{}:{}", printable(sources.name(place.file)), where.line, where.column);
}

std::string in_kebab_case(std::string_view name) {
  std::string code(name);
  std::replace(code.begin(), code.end(), '_', '-');
  return code;
}

}  // namespace

std::string to_text(const Diagnostic& diagnostic, const Sources& sources) {
  const std::string_view severity = diagnostic.severity() == Severity::error ? "error" : "warning";
  std::string text = fmt::format("{}: {}: {}  [{}]\n", heading(diagnostic.place, sources), severity,
                                 printable(diagnostic.message), in_kebab_case(code_name(diagnostic.code)));
  text += excerpt_text(diagnostic.place, sources);
  if (!diagnostic.mend.empty()) text += fmt::format("  mend: {}\n", printable(diagnostic.mend));
  for (const Note& note : diagnostic.notes) {
    text += fmt::format("  note: {}: {}\n", heading(note.place, sources), printable(note.text));
  }
  return text;
}

}  // namespace detent::dsl
