// A picture as Graphviz' program `dot` is asked to lay it out. Private to the layout.
#pragma once

#include <set>
#include <string>

#include "cli/report/picture.hpp"

namespace detent::cli::report {

inline constexpr double inch = 72;  ///< pixels
inline constexpr double frame_margin = 12;
inline constexpr double frame_head = 20;  ///< where a frame's name stands

/// The parts in use that have elements in the picture, and those that they stand in.
[[nodiscard]] std::set<std::string> frames_of(const Picture& picture);

/// Nodes are called n0, n1, … by index; no word of the design is in it.
[[nodiscard]] std::string dot_text(const Picture& picture);

}  // namespace detent::cli::report
