// From spans to bytes: cleaning, wrapping, and the few escape sequences that this program ever writes.
#include "cli/page.hpp"

#include <algorithm>
#include <cstdint>

namespace detent::cli {
namespace {

constexpr std::size_t widest_text = 100;

struct Letter {
  std::uint32_t point = 0;
  std::size_t bytes = 1;
  bool good = false;
};

std::size_t sequence_length(unsigned char first) {
  if (first < 0x80) return 1;
  if (first >= 0xC2 && first < 0xE0) return 2;
  if (first >= 0xE0 && first < 0xF0) return 3;
  if (first >= 0xF0 && first < 0xF5) return 4;
  return 0;
}

bool is_scalar(std::uint32_t point, std::size_t length) {
  const bool surrogate = point >= 0xD800 && point < 0xE000;
  const bool overlong = (length == 3 && point < 0x800) || (length == 4 && point < 0x10000);
  return !surrogate && !overlong && point <= 0x10FFFF;
}

/// Reads one code point; a byte that begins none is one bad letter.
Letter next_letter(std::string_view text) {
  const auto first = static_cast<unsigned char>(text.front());
  const std::size_t length = sequence_length(first);
  if (length == 0 || length > text.size()) return {};
  if (length == 1) return {.point = first, .bytes = 1, .good = true};
  std::uint32_t point = first & (0xFFU >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    if ((byte & 0xC0U) != 0x80U) return {};
    point = (point << 6U) | (byte & 0x3FU);
  }
  if (!is_scalar(point, length)) return {};
  return {.point = point, .bytes = length, .good = true};
}

bool is_control(std::uint32_t point) {
  return point < 0x20 || (point >= 0x7F && point < 0xA0);
}

/// Marks that change the order in which the text around them is shown, and line separators.
bool is_reordering(std::uint32_t point) {
  return (point >= 0x200E && point <= 0x200F) || (point >= 0x2028 && point <= 0x202E) ||
         (point >= 0x2066 && point <= 0x2069) || point == 0x061C;
}

void append_clean(std::string& out, std::string_view bytes, const Letter& letter, bool unicode) {
  const bool shown = letter.good && !is_control(letter.point) && !is_reordering(letter.point);
  if (shown && (unicode || letter.point < 0x80)) {
    out += bytes;
  } else {
    out += unicode ? "\xEF\xBF\xBD" : "?";
  }
}

std::string clean(std::string_view text, bool unicode, bool keep_line_ends) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const Letter letter = next_letter(text);
    if (keep_line_ends && letter.good && letter.point == '\n') {
      out += '\n';
    } else if (letter.good && letter.point == '\t') {
      out += ' ';
    } else {
      append_clean(out, text.substr(0, letter.bytes), letter, unicode);
    }
    text.remove_prefix(letter.bytes);
  }
  return out;
}

/// Select Graphic Rendition, ECMA-48 §8.3.117: the parameters of each style.
std::string_view color_of(Style style) {
  switch (style) {
    case Style::plain:
      return "";
    case Style::strong:
      return "1";
    case Style::faint:
      return "2";
    case Style::good:
      return "32";
    case Style::bad:
      return "1;31";
    case Style::unsure:
      return "33";
  }
  return "";
}

void append_span(std::string& out, const Span& span, const Terminal& terminal) {
  const std::string text = printable(span.text, terminal.unicode);
  const std::string_view color = terminal.color ? color_of(span.style) : "";
  if (color.empty() || text.empty()) {
    out += text;
    return;
  }
  out += "\x1b[";
  out += color;
  out += 'm';
  out += text;
  out += "\x1b[0m";
}

/// Up to the next blank at which a line may be broken: a number is kept together with its unit.
std::size_t word_length(std::string_view text) {
  constexpr std::size_t longest_unit = 6;
  std::size_t end = std::min(text.find(' '), text.size());
  while (end > 0 && end < text.size() && text[end - 1] >= '0' && text[end - 1] <= '9') {
    const std::size_t next = std::min(text.find(' ', end + 1), text.size());
    if (next - end - 1 > longest_unit) break;
    end = next;
  }
  return end;
}

Line without_trailing_blanks(Line line) {
  while (!line.empty()) {
    std::string& text = line.back().text;
    while (!text.empty() && text.back() == ' ') text.pop_back();
    if (!text.empty()) break;
    line.pop_back();
  }
  return line;
}

}  // namespace

std::string printable(std::string_view text, bool unicode) {
  return clean(text, unicode, false);
}

std::string printable_lines(std::string_view text, bool unicode) {
  return clean(text, unicode, true);
}

std::size_t columns(std::string_view text) {
  std::size_t count = 0;
  for (; !text.empty(); ++count) text.remove_prefix(next_letter(text).bytes);
  return count;
}

std::string shortened(const std::string& text, std::size_t width, bool unicode) {
  if (columns(text) <= width) return text;
  std::string_view rest = text;
  for (std::size_t i = 0; i + 1 < width; ++i) rest.remove_prefix(next_letter(rest).bytes);
  return text.substr(0, text.size() - rest.size()) + (unicode ? "…" : "~");
}

std::vector<std::string> wrapped(std::string_view text, std::size_t width) {
  std::vector<std::string> lines;
  std::string line;
  while (!text.empty()) {
    const std::size_t length = word_length(text);
    const std::string_view word = text.substr(0, length);
    if (!line.empty() && columns(line) + 1 + columns(word) > width) {
      lines.push_back(std::move(line));
      line.clear();
    }
    if (!line.empty()) line += ' ';
    line += word;
    text.remove_prefix(std::min(length + 1, text.size()));
  }
  lines.push_back(std::move(line));
  return lines;
}

void add_paragraph(Page& page, const std::string& first, std::string_view text, const Terminal& terminal,
                   Style style) {
  const std::size_t indent = columns(first);
  const std::size_t width = std::min(terminal.width, widest_text);
  const std::size_t room = width > indent + 20 ? width - indent : 20;
  std::string head = first;
  for (std::string& line : wrapped(text, room)) {
    page.push_back({{head}, {std::move(line), style}});
    head = std::string(indent, ' ');
  }
}

void add_page(Page& page, const Page& more) {
  page.insert(page.end(), more.begin(), more.end());
}

std::string render(const Page& page, const Terminal& terminal) {
  std::string out;
  for (const Line& line : page) {
    for (const Span& span : without_trailing_blanks(line)) append_span(out, span, terminal);
    out += '\n';
  }
  return out;
}

}  // namespace detent::cli
