// The design as a signal-flow picture: inputs on the left, elements, outputs on the right.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "dsl/front.hpp"

namespace detent::cli::report {

/// A place in the picture, from its upper left corner on, in pixels.
struct Point {
  double x = 0, y = 0;
};

struct PictureNode {
  std::uint32_t signal = 0;  ///< index into Model::signals
  std::string name;          ///< without the part that it stands in
  std::string kind;          ///< the keyword; "received" for what arrives over a link
  std::string detail;        ///< "3 s", "safe | run"; "" where there is nothing to add
  std::string doc, link;
  dsl::SignalRole role = dsl::SignalRole::element;
  bool level = false;
  dsl::Range range = {};  ///< of a level
  std::string part = {};  ///< the part in use that it stands in: "guard_switch"; "" for none
  double width = 0, height = 0;
  Point middle = {};
};

struct PictureEdge {
  std::size_t from = 0, to = 0;   ///< indices into Picture::nodes
  bool earlier = false;           ///< what is read is one tick old
  std::vector<Point> curve = {};  ///< a start, then Bézier points by threes
};

/// A frame round the elements of a part in use.
struct PictureFrame {
  std::string name;
  Point corner = {};
  double width = 0, height = 0;
};

struct Picture {
  std::vector<PictureNode> nodes;
  std::vector<PictureEdge> edges;
  std::vector<PictureFrame> frames = {};
  double width = 0, height = 0;
  std::string why_not = {};  ///< why there is none to be drawn; then nothing above has a place
};

/// More elements than that are listed, not drawn: nobody could follow the lines.
inline constexpr std::size_t most_drawn = 250;

/// All that is to be drawn, without places; with more than `most` nodes there are no lines, and why_not says
/// so. The text must be free of errors.
[[nodiscard]] Picture picture_of(const dsl::Compiled& compiled, std::size_t most = most_drawn);

/// Where a place is found on the page: "#f0-L34".
[[nodiscard]] std::string link_to(const dsl::Sources& sources, const dsl::Place& place);

}  // namespace detent::cli::report
