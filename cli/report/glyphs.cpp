// Small signs, drawn on 18 by 18 pixels. Elements that work in time are shown by what they do in time: what
// comes in is not drawn, what goes out is.
#include <array>
#include <map>

#include "cli/report/draw.hpp"

namespace detent::cli::report {
namespace {

/// What is drawn with a line, and what is drawn dotted: time that has to pass.
struct Glyph {
  const char* line;
  const char* dotted = "";
};

const Glyph& glyph_of(const std::string& kind) {
  static const std::map<std::string, Glyph> glyphs{
      {"channel", {"M9 2v14M5.5 6.5h7v4h-7z"}},
      {"switch", {"M2 13h4M12 13h4M6 13L12.5 5.5"}},
      {"button", {"M3 14h12M5.5 14V9.5h7V14M9 3v4"}},
      {"link", {"M9 15v-6M6.2 9.6a4 4 0 1 1 5.6 0M3.6 12.2a7.6 7.6 0 1 1 10.8 0"}},
      {"received", {"M2 9h9M8 5.5L11.5 9L8 12.5M15 3v12"}},
      {"signal", {"M3 6.5h12M3 11.5h12"}},
      {"pulse", {"M2 14h3V4h7v10h4"}},
      {"delay", {"M9 14V4h7", "M2 14h7"}},
      {"linger", {"M2 4h5M12 14h4M12 4v10", "M7 4h5"}},
      {"latch", {"M2 14h4V4h10M12 8v3M14 8v3"}},
      {"counter", {"M2 15h3.5v-4H9V7h3.5V3H16"}},
      {"keep", {"M2 12h4l3-6h7M9 6m-1.8 0a1.8 1.8 0 1 0 3.6 0a1.8 1.8 0 1 0 -3.6 0"}},
      {"stages",
       {"M1.5 9a2 2 0 1 0 4 0a2 2 0 1 0 -4 0M5.5 9h2M7.5 9a2 2 0 1 0 4 0a2 2 0 1 0 -4 0M11.5 9h1"
        "M12.5 9a2 2 0 1 0 4 0a2 2 0 1 0 -4 0"}},
      {"output", {"M2 9h13M11 5l4 4l-4 4M2 4v10"}},
  };
  static const Glyph other{"M4 4h10v10h-10z"};
  const auto found = glyphs.find(kind);
  return found == glyphs.end() ? other : found->second;
}

/// Shapes, so that no verdict is told by colour alone.
const char* shape_of(Mark mark) {
  switch (mark) {
    case Mark::proved:
      return "M4.5 9.5L8 13L14 5.5";
    case Mark::possible:
      return "M7 5l5.5 4L7 13z";
    case Mark::refuted:
      return "M5 5l8 8M13 5l-8 8";
    case Mark::undecided:
      return "M6.3 6.6a2.8 2.8 0 1 1 4 2.6c-.9.5-1.3 1-1.3 2M9 13.4v.8";
  }
  return "";
}

}  // namespace

void draw_glyph(Html& html, const std::string& kind, const Point& corner) {
  const Glyph& glyph = glyph_of(kind);
  html.open("g", {{"class", "glyph"},
                  {"transform", "translate(" + length(corner.x) + " " + length(corner.y) + ")"}});
  html.element("path", {{"d", glyph.line}});
  if (*glyph.dotted != 0) html.element("path", {{"class", "dotted"}, {"d", glyph.dotted}});
  html.close();
}

void draw_mark(Html& html, Mark mark) {
  static constexpr std::array<const char*, 4> names{"proved", "possible", "refuted", "undecided"};
  html.open("svg", {{"class", std::string("mark ") + names[static_cast<std::size_t>(mark)]},
                    {"viewBox", "0 0 18 18"},
                    {"width", "18"},
                    {"height", "18"},
                    {"aria-hidden", "true"}});
  html.element("path", {{"d", shape_of(mark)}});
  html.close();
}

}  // namespace detent::cli::report
