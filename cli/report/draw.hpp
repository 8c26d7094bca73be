// Pictures in SVG. They carry classes, not colours: the style sheet decides how they look, in the light, in
// the dark and on paper.
#pragma once

#include "cli/report/html.hpp"
#include "cli/report/page_model.hpp"

namespace detent::cli::report {

/// The design; each element is a link to its line of the text, and says by data-s which signal it is.
void draw_picture(Html& html, const Picture& picture, const std::string& label);

/// The sign that stands for an element's keyword, 18 pixels wide and high.
void draw_glyph(Html& html, const std::string& kind, const Point& corner);

/// A run: names on the left, and a row each.
void draw_diagram(Html& html, const RunView& run);

/// The sign of a verdict, 18 pixels wide and high.
void draw_mark(Html& html, Mark mark);

/// A range of values, by parts.
void draw_strip(Html& html, const Strip& strip);

}  // namespace detent::cli::report
