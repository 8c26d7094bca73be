// A page of text: lines of spans that say what they are, not which colour they have. Everything that is shown
// goes through render(), which lets no control character through, whatever file it came from.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "cli/terminal.hpp"

namespace detent::cli {

enum class Style { plain, strong, faint, good, bad, unsure };

struct Span {
  std::string text;
  Style style = Style::plain;
};
using Line = std::vector<Span>;
using Page = std::vector<Line>;

/// The text with everything replaced that is not to reach a terminal: control characters (C0, C1, DEL), marks
/// that reorder text, bytes that are no UTF-8; without `unicode` also everything that is not ASCII.
[[nodiscard]] std::string printable(std::string_view text, bool unicode);

/// The same for text of several lines: line ends stay.
[[nodiscard]] std::string printable_lines(std::string_view text, bool unicode);

/// How many columns the text takes, counted in code points.
[[nodiscard]] std::size_t columns(std::string_view text);

/// The first `width` columns; what is longer ends in "…" (or "~" without unicode).
[[nodiscard]] std::string shortened(const std::string& text, std::size_t width, bool unicode);

/// Broken at blanks into lines of at most `width` columns; a longer word stands alone, and a number is not
/// parted from its unit.
[[nodiscard]] std::vector<std::string> wrapped(std::string_view text, std::size_t width);

/// Appends `text`, wrapped to the page's width (at most 100 columns: longer lines are hard to follow),
/// behind `first`; following lines are indented by as much as `first` takes.
void add_paragraph(Page& page, const std::string& first, std::string_view text, const Terminal& terminal,
                   Style style = Style::plain);

void add_page(Page& page, const Page& more);

[[nodiscard]] std::string render(const Page& page, const Terminal& terminal);

}  // namespace detent::cli
