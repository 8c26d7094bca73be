#include "dsl/format/columns.hpp"

#include <algorithm>

#include "dsl/format/words.hpp"

namespace detent::dsl::format {
namespace {

/// Tokens of lines that follow each other, to begin in one column.
class Column {
 public:
  explicit Column(Tokens& tokens) : tokens_(tokens) {}
  /// `width`: of what stands on the line before the token.
  void add(std::size_t token, std::size_t width) {
    members_.push_back({token, width});
    widest_ = std::max(widest_, width);
  }
  void close() {
    for (const Member& member : members_)
      tokens_[member.token].pad = static_cast<std::uint32_t>(widest_ - member.width);
    members_.clear();
    widest_ = 0;
  }

 private:
  struct Member {
    std::size_t token, width;
  };
  Tokens& tokens_;
  std::vector<Member> members_;
  std::size_t widest_ = 0;
};

/// NAME of `KEYWORD NAME = …` on one line, without a sentence: what such lines share is a column for `=`.
bool is_row(const Tokens& tokens, const Line& line) {
  return tokens[line.first].role == Role::declaration && line.last - line.first > 3 &&
         tokens[line.first + 2].text == "=";
}

void align_values(Tokens& tokens, const std::vector<Line>& lines) {
  Column column(tokens);
  std::string_view word;
  for (const Line& line : lines) {
    const bool row = is_row(tokens, line);
    if (!row || tokens[line.first].text != word) column.close();
    word = row ? tokens[line.first].text : "";
    if (row) column.add(line.first + 2, tokens[line.first + 1].text.size());
  }
  column.close();
}

/// A -> B when C: the arrows of a stretch of lines without an empty one, and what follows the next stages.
void align_moves(Tokens& tokens, const std::vector<Line>& lines) {
  Column arrows(tokens), causes(tokens);
  std::size_t stages = 0;
  for (const Line& line : lines) {
    if (!line.has_code() && !line.is_blank()) continue;
    const bool moves = line.has_code() && tokens[line.first].role == Role::move;
    if (line.has_code() && !moves && tokens[line.first].move != 0) continue;  // a move goes on
    if (!moves || tokens[line.first].head != stages) arrows.close(), causes.close();
    if (!moves) continue;
    stages = tokens[line.first].head;
    if (line.last - line.first > 1) arrows.add(line.first + 1, tokens[line.first].text.size());
    if (line.last - line.first > 3) causes.add(line.first + 3, tokens[line.first + 2].text.size());
  }
  arrows.close();
  causes.close();
}

std::string code_of(const Tokens& tokens, const Line& line) {
  std::string code(indent_of(tokens, line), ' ');
  for (std::size_t at = line.first; at < line.last; ++at) {
    if (at != line.first) code.append(gap_before(tokens, at) + tokens[at].pad, ' ');
    code += tokens[at].text;
  }
  return code;
}

/// Whether the line's comment stands behind code, or goes on with one that does.
bool has_end_comment(const Line& line) {
  return line.comment != nullptr && (line.has_code() || line.continues);
}

}  // namespace

void align_rows(Tokens& tokens, const std::vector<Line>& lines) {
  align_values(tokens, lines);
  align_moves(tokens, lines);
}

std::string text_of(const Tokens& tokens, const std::vector<Line>& lines, std::string_view line_end) {
  std::vector<std::string> codes;
  codes.reserve(lines.size());
  for (const Line& line : lines) codes.push_back(line.has_code() ? code_of(tokens, line) : "");
  std::string text;
  std::size_t column = 0;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const Line& line = lines[i];
    if (has_end_comment(line) && (i == 0 || !has_end_comment(lines[i - 1]))) {
      column = 0;
      for (std::size_t j = i; j < lines.size() && has_end_comment(lines[j]); ++j) {
        column = std::max(column, width_of(codes[j]) + 2);
      }
    }
    if (has_end_comment(line)) {
      codes[i].append(column - width_of(codes[i]), ' ');
    } else if (line.comment != nullptr) {
      codes[i].append(indent_of(tokens, line), ' ');
    }
    text.append(codes[i]).append(line.comment == nullptr ? "" : line.comment->text).append(line_end);
  }
  return text;
}

}  // namespace detent::dsl::format
