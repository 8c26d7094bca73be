// A picture as Graphviz' program `dot` is asked to lay it out. Private to the layout.
#pragma once

#include <functional>
#include <set>
#include <string>

#include "cli/report/picture.hpp"

namespace detent::cli::report {

inline constexpr double inch = 72;  ///< pixels
inline constexpr double frame_margin = 12;
inline constexpr double frame_head = 20;  ///< where a frame's name stands

/// The parts in use that have elements in the picture, and those that they stand in.
[[nodiscard]] std::set<std::string> frames_of(const Picture& picture);

/// How a picture is written in Graphviz' language: every text is complete as DOT.
struct DotForm {
  std::string head;                                      ///< what stands behind the first brace
  std::function<std::string(std::size_t)> name;          ///< of a node, by index
  std::function<std::string(std::size_t)> node;          ///< its attributes
  std::function<std::string(const std::string&)> frame;  ///< attributes of a part's frame
  std::function<std::string(const PictureEdge&)> edge;   ///< " [constraint=false]", or ""
};
[[nodiscard]] std::string dot_text(const Picture& picture, const DotForm& form);

/// For the layout: nodes are called n0, n1, … by index; no word of the design is in it.
[[nodiscard]] std::string dot_text(const Picture& picture);

}  // namespace detent::cli::report
