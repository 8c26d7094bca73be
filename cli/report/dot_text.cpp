#include "cli/report/dot_text.hpp"

#include <fmt/format.h>

namespace detent::cli::report {
namespace {

void write_frame(const Picture& picture, const std::set<std::string>& frames, const std::string& frame,
                 std::size_t& number, std::string& out) {
  out += fmt::format("subgraph cluster_{} {{ margin={};\n", number++, frame_margin + frame_head / 2);
  for (std::size_t index = 0; index < picture.nodes.size(); ++index) {
    if (picture.nodes[index].part == frame) out += fmt::format("n{};\n", index);
  }
  for (const std::string& inner : frames) {
    const bool next =
        inner.starts_with(frame + ".") && inner.find('.', frame.size() + 1) == std::string::npos;
    if (next) write_frame(picture, frames, inner, number, out);
  }
  out += "}\n";
}

void write_rank(const Picture& picture, const char* rank, dsl::SignalRole role, std::string& out) {
  out += fmt::format("{{ rank={};", rank);
  for (std::size_t index = 0; index < picture.nodes.size(); ++index) {
    const PictureNode& node = picture.nodes[index];
    if (node.role == role && node.part.empty()) out += fmt::format(" n{};", index);
  }
  out += "}\n";
}

}  // namespace

std::set<std::string> frames_of(const Picture& picture) {
  std::set<std::string> frames;
  for (const PictureNode& node : picture.nodes) {
    for (std::size_t dot = 0; !node.part.empty() && dot != std::string::npos;) {
      dot = node.part.find('.', dot + 1);
      frames.insert(node.part.substr(0, dot));
    }
  }
  return frames;
}

std::string dot_text(const Picture& picture) {
  std::string out =
      "digraph { rankdir=LR; nodesep=0.22; ranksep=0.62; splines=true; newrank=true;\n"
      "node [shape=box, fixedsize=true, label=\"\"]; edge [headport=w, tailport=e];\n";
  for (std::size_t index = 0; index < picture.nodes.size(); ++index) {
    const PictureNode& node = picture.nodes[index];
    out += fmt::format("n{} [width={:.3f}, height={:.3f}];\n", index, node.width / inch, node.height / inch);
  }
  const std::set<std::string> frames = frames_of(picture);
  std::size_t number = 0;
  for (const std::string& frame : frames) {
    if (frame.find('.') == std::string::npos) write_frame(picture, frames, frame, number, out);
  }
  write_rank(picture, "min", dsl::SignalRole::hand, out);
  write_rank(picture, "max", dsl::SignalRole::output, out);
  for (const PictureEdge& edge : picture.edges) {
    out += fmt::format("n{} -> n{}{};\n", edge.from, edge.to, edge.earlier ? " [constraint=false]" : "");
  }
  return out + "}\n";
}

}  // namespace detent::cli::report
