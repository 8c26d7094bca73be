#include <fmt/format.h>

#include "cli/report/draw.hpp"

namespace detent::cli::report {
namespace {

constexpr double corner = 5;
constexpr double glyph_left = 9;
constexpr double text_left = 34;
constexpr double least_scale = 0.72;  // smaller than that nobody can read it: then it is scrolled

std::string class_of(const PictureNode& node) {
  std::string words = "node " + node.kind;
  if (node.role == dsl::SignalRole::hand) words += " hand";
  if (node.role == dsl::SignalRole::output) words += " leaves";
  return words;
}

/// Inputs point to the right, into the design; outputs have a bar on the right, where it ends; all else is a
/// plate with round corners.
std::string outline_of(const PictureNode& node) {
  const double w = node.width, h = node.height, r = corner;
  if (node.role == dsl::SignalRole::hand) {
    return fmt::format(
        "M{r} 0H{a:.1f}L{w:.1f} {m:.1f}L{a:.1f} {h:.1f}H{r}Q0 {h:.1f} 0 {b:.1f}V{r}Q0 0 {r} 0Z",
        fmt::arg("r", r), fmt::arg("a", w - 11), fmt::arg("w", w), fmt::arg("m", h / 2), fmt::arg("h", h),
        fmt::arg("b", h - r));
  }
  const double left = node.kind == "received" ? h / 2 : r;
  return fmt::format(
      "M{l:.1f} 0H{a:.1f}Q{w:.1f} 0 {w:.1f} {l:.1f}V{b:.1f}Q{w:.1f} {h:.1f} {a:.1f} {h:.1f}H{l:.1f}"
      "Q0 {h:.1f} 0 {b:.1f}V{l:.1f}Q0 0 {l:.1f} 0Z",
      fmt::arg("l", left), fmt::arg("a", w - left), fmt::arg("w", w), fmt::arg("b", h - left),
      fmt::arg("h", h));
}

void draw_level(Html& html, const PictureNode& node) {
  const double width = node.width - text_left - 16;
  html.element("rect", {{"class", "scale"},
                        {"x", length(text_left)},
                        {"y", length(node.height - 7)},
                        {"width", length(width)},
                        {"height", "3"}});
  html.element("rect", {{"class", "level"},
                        {"x", length(text_left)},
                        {"y", length(node.height - 7)},
                        {"width", "0"},
                        {"height", "3"},
                        {"data-full", length(width)},
                        {"data-low", std::to_string(node.range.low)},
                        {"data-high", std::to_string(node.range.high)}});
}

void draw_node(Html& html, const PictureNode& node) {
  const std::string full = node.part.empty() ? node.name : node.part + "." + node.name;
  const std::string kind = node.detail.empty() ? node.kind : node.kind + "  " + node.detail;
  html.open("a", {{"href", node.link},
                  {"class", class_of(node)},
                  {"data-s", std::to_string(node.signal)},
                  {"transform", fmt::format("translate({} {})", length(node.middle.x - node.width / 2),
                                            length(node.middle.y - node.height / 2))}});
  html.element("title", {}, full + ", " + kind + (node.doc.empty() ? "" : ": " + node.doc));
  html.element("path", {{"class", "plate"}, {"d", outline_of(node)}});
  if (node.role == dsl::SignalRole::output) {
    html.element("rect", {{"class", "end"},
                          {"x", length(node.width - 5)},
                          {"y", "0"},
                          {"width", "5"},
                          {"height", length(node.height)},
                          {"rx", "2.5"}});
  }
  draw_glyph(html, node.role == dsl::SignalRole::output ? "output" : node.kind,
             {glyph_left, node.height / 2 - 9});
  const double up = node.level ? 3 : 0;
  html.element("text", {{"class", "name"}, {"x", length(text_left)}, {"y", length(20 - up)}}, node.name);
  html.element("text", {{"class", "kind"}, {"x", length(text_left)}, {"y", length(36 - up)}}, kind);
  html.element("text", {{"class", "value"}, {"x", length(text_left)}, {"y", length(36 - up)}});
  if (node.level) draw_level(html, node);
  html.close();
}

/// An arrow's head on the end of a curve that comes in from the left.
std::string head_at(const Point& end) {
  return fmt::format("M{} {}l-7 -3.5v7z", length(end.x), length(end.y));
}

void draw_edge(Html& html, const Picture& picture, const PictureEdge& edge) {
  std::string path = fmt::format("M{} {}C", length(edge.curve[0].x), length(edge.curve[0].y));
  for (std::size_t i = 1; i < edge.curve.size(); ++i) {
    path += fmt::format("{}{} {}", i == 1 ? "" : " ", length(edge.curve[i].x), length(edge.curve[i].y));
  }
  const PictureNode& to = picture.nodes[edge.to];
  const Point end{to.middle.x - to.width / 2, to.middle.y};
  path += fmt::format("L{} {}", length(end.x - 5), length(end.y));
  html.open("g", {{"class", edge.earlier ? "edge earlier" : "edge"},
                  {"data-from", std::to_string(picture.nodes[edge.from].signal)},
                  {"data-to", std::to_string(to.signal)}});
  html.element("path", {{"class", "wire"}, {"d", path}});
  html.element("path", {{"class", "head"}, {"d", head_at(end)}});
  html.close();
}

void draw_frame(Html& html, const PictureFrame& frame) {
  html.element("rect", {{"class", "frame"},
                        {"x", length(frame.corner.x)},
                        {"y", length(frame.corner.y)},
                        {"width", length(frame.width)},
                        {"height", length(frame.height)},
                        {"rx", "8"}});
  html.element(
      "text",
      {{"class", "frame-name"}, {"x", length(frame.corner.x + 10)}, {"y", length(frame.corner.y + 15)}},
      frame.name);
}

}  // namespace

void draw_picture(Html& html, const Picture& picture, const std::string& label) {
  html.open("svg", {{"class", "picture"},
                    {"role", "group"},
                    {"aria-label", label},
                    {"viewBox", fmt::format("0 0 {} {}", length(picture.width), length(picture.height))},
                    {"width", length(picture.width)},
                    {"height", length(picture.height)},
                    {"style", fmt::format("--least: {}px", length(picture.width * least_scale))}});
  for (const PictureFrame& frame : picture.frames) draw_frame(html, frame);
  for (const PictureEdge& edge : picture.edges) draw_edge(html, picture, edge);
  for (const PictureNode& node : picture.nodes) draw_node(html, node);
  html.close();
}

}  // namespace detent::cli::report
