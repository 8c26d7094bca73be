#include "cli/report/dot_text.hpp"

#include <fmt/format.h>

namespace detent::cli::report {
namespace {

class Writer {
 public:
  Writer(const Picture& picture, const DotForm& form)
      : picture_(picture), form_(form), frames_(frames_of(picture)) {}

  std::string write() {
    out_ = "digraph { " + form_.head;
    for (std::size_t index = 0; index < picture_.nodes.size(); ++index) {
      out_ += fmt::format("{} [{}];\n", form_.name(index), form_.node(index));
    }
    for (const std::string& frame : frames_) {
      if (frame.find('.') == std::string::npos) write_frame(frame);
    }
    write_rank("min", dsl::SignalRole::hand);
    write_rank("max", dsl::SignalRole::output);
    for (const PictureEdge& edge : picture_.edges) {
      out_ += fmt::format("{} -> {}{};\n", form_.name(edge.from), form_.name(edge.to), form_.edge(edge));
    }
    return out_ + "}\n";
  }

 private:
  void write_frame(const std::string& frame) {
    out_ += fmt::format("subgraph cluster_{} {{ {};\n", number_++, form_.frame(frame));
    for (std::size_t index = 0; index < picture_.nodes.size(); ++index) {
      if (picture_.nodes[index].part == frame) out_ += form_.name(index) + ";\n";
    }
    for (const std::string& inner : frames_) {
      const bool next =
          inner.starts_with(frame + ".") && inner.find('.', frame.size() + 1) == std::string::npos;
      if (next) write_frame(inner);
    }
    out_ += "}\n";
  }

  void write_rank(const char* rank, dsl::SignalRole role) {
    out_ += fmt::format("{{ rank={};", rank);
    for (std::size_t index = 0; index < picture_.nodes.size(); ++index) {
      const PictureNode& node = picture_.nodes[index];
      if (node.role == role && node.part.empty()) out_ += " " + form_.name(index) + ";";
    }
    out_ += "}\n";
  }

  const Picture& picture_;
  const DotForm& form_;
  std::set<std::string> frames_;
  std::size_t number_ = 0;
  std::string out_;
};

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

std::string dot_text(const Picture& picture, const DotForm& form) {
  return Writer(picture, form).write();
}

std::string dot_text(const Picture& picture) {
  return dot_text(
      picture,
      {.head = "rankdir=LR; nodesep=0.22; ranksep=0.62; splines=true; newrank=true;\n"
               "node [shape=box, fixedsize=true, label=\"\"]; edge [headport=w, tailport=e];\n",
       .name = [](std::size_t index) { return fmt::format("n{}", index); },
       .node =
           [&](std::size_t index) {
             const PictureNode& node = picture.nodes[index];
             return fmt::format("width={:.3f}, height={:.3f}", node.width / inch, node.height / inch);
           },
       .frame = [](const std::string&) { return fmt::format("margin={}", frame_margin + frame_head / 2); },
       .edge = [](const PictureEdge& edge) { return edge.earlier ? " [constraint=false]" : ""; }});
}

}  // namespace detent::cli::report
