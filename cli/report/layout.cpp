// The picture goes to `dot` as numbered boxes without words, and comes back in its plain form, a line a
// thing:
//   graph SCALE WIDTH HEIGHT
//   node NAME X Y WIDTH HEIGHT …
//   edge TAIL HEAD N X1 Y1 … XN YN …
// in inches, with y upwards.
#include "cli/report/layout.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <map>
#include <set>
#include <sstream>

#include "cli/child.hpp"
#include "cli/report/dot_text.hpp"
#include "cli/temporary_file.hpp"

namespace detent::cli::report {
namespace {

constexpr std::chrono::seconds patience{30};
constexpr double margin = 16;

struct Asked {
  bool written = false;  ///< else no temporary file could be
  ChildAnswer answer = {};
};

Asked ask_dot(const std::string& text) {
  const TemporaryFile file("picture", "", text);
  if (!file.written()) return {};
  return {true, run_child({"dot", "-Tplain", file.path()}, patience)};
}

bool good(const Asked& asked) {
  return asked.written && asked.answer.started && asked.answer.in_time && asked.answer.status == 0;
}

// ---- The answer ----

class Answer {
 public:
  Answer(const std::string& text, Picture& picture) : picture_(picture) {
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) read(line);
    for (PictureEdge& edge : picture_.edges) good_ = good_ && edge.curve.size() >= 4;
    good_ = good_ && placed_ == picture_.nodes.size();
  }
  [[nodiscard]] bool good() const { return good_; }

 private:
  void read(const std::string& line) {
    std::istringstream words(line);
    std::string what;
    words >> what;
    if (what == "graph") {
      double scale = 1;
      words >> scale >> picture_.width >> picture_.height;
      picture_.width = picture_.width * inch + 2 * margin;
      picture_.height = picture_.height * inch + 2 * margin;
    } else if (what == "node") {
      const std::size_t index = read_name(words);
      if (index < picture_.nodes.size()) picture_.nodes[index].middle = read_point(words);
      ++placed_;
    } else if (what == "edge") {
      read_edge(words);
    }
    good_ = good_ && !words.fail();
  }

  static std::size_t read_name(std::istringstream& words) {
    char n = 0;
    std::size_t index = 0;
    words >> n >> index;
    return index;
  }

  [[nodiscard]] Point read_point(std::istringstream& words) const {
    Point point;
    words >> point.x >> point.y;
    return {point.x * inch + margin, picture_.height - point.y * inch - margin};
  }

  void read_edge(std::istringstream& words) {
    const std::size_t from = read_name(words);
    const std::size_t to = read_name(words);
    std::size_t count = 0;
    words >> count;
    const auto edge = std::find_if(picture_.edges.begin(), picture_.edges.end(),
                                   [&](const PictureEdge& one) { return one.from == from && one.to == to; });
    if (edge == picture_.edges.end()) return;
    for (std::size_t i = 0; i < count && words; ++i) edge->curve.push_back(read_point(words));
  }

  Picture& picture_;
  std::size_t placed_ = 0;
  bool good_ = true;
};

/// Parts in parts: "a.b" stands in "a".
bool stands_in(const std::string& part, const std::string& frame) {
  return part == frame || part.starts_with(frame + ".");
}

void add_frames(Picture& picture) {
  for (const std::string& name : frames_of(picture)) {
    double left = picture.width, right = 0, top = picture.height, bottom = 0;
    for (const PictureNode& node : picture.nodes) {
      if (!stands_in(node.part, name)) continue;
      const auto deeper = static_cast<double>(
          std::count(node.part.begin() + static_cast<std::ptrdiff_t>(name.size()), node.part.end(), '.'));
      const double room = frame_margin * (deeper + 1);
      left = std::min(left, node.middle.x - node.width / 2 - room);
      right = std::max(right, node.middle.x + node.width / 2 + room);
      top = std::min(top, node.middle.y - node.height / 2 - room - frame_head * (deeper + 1) + 8);
      bottom = std::max(bottom, node.middle.y + node.height / 2 + room);
    }
    picture.frames.push_back({name, {left, top}, right - left, bottom - top});
  }
}

/// What stands out, such as a curve that swings wide, is given room.
void fit(Picture& picture) {
  double left = 0, top = 0, right = picture.width, bottom = picture.height;
  const auto keep = [&](const Point& point, double room) {
    left = std::min(left, point.x - room);
    top = std::min(top, point.y - room);
    right = std::max(right, point.x + room);
    bottom = std::max(bottom, point.y + room);
  };
  for (const PictureEdge& edge : picture.edges) {
    for (const Point& point : edge.curve) keep(point, 4);
  }
  for (const PictureFrame& frame : picture.frames) {
    keep(frame.corner, 4);
    keep({frame.corner.x + frame.width, frame.corner.y + frame.height}, 4);
  }
  const auto move = [&](Point& point) {
    point.x -= left;
    point.y -= top;
  };
  for (PictureNode& node : picture.nodes) move(node.middle);
  for (PictureFrame& frame : picture.frames) move(frame.corner);
  for (PictureEdge& edge : picture.edges) std::for_each(edge.curve.begin(), edge.curve.end(), move);
  picture.width = right - left;
  picture.height = bottom - top;
}

}  // namespace

std::optional<CommandResult> try_layout() {
  const Asked asked = ask_dot("digraph { a }\n");
  if (good(asked)) return std::nullopt;
  if (!asked.written) {
    return usage_error("no temporary file can be written, which the picture of the design needs",
                       "make room in the folder for temporary files, or name another one in TMPDIR");
  }
  return asked.answer.started
             ? usage_error("the program 'dot', which lays out the picture of the design, does not work",
                           "try 'dot -V'; it comes with Graphviz, in Debian the package graphviz")
             : usage_error("the program 'dot', which lays out the picture of the design, is not there",
                           "install Graphviz; in Debian: apt-get install graphviz");
}

void lay_out(Picture& picture) {
  if (!picture.why_not.empty() || picture.nodes.empty()) return;
  const Asked asked = ask_dot(dot_text(picture));
  if (good(asked) && Answer(asked.answer.output, picture).good()) {
    add_frames(picture);
    fit(picture);
    return;
  }
  picture.why_not =
      asked.answer.in_time
          ? "The picture could not be laid out; what the design is made of is listed below."
          : "The picture could not be laid out in 30 s; what the design is made of is listed below.";
}

}  // namespace detent::cli::report
