#include "dsl/format/lines.hpp"

#include <string_view>

#include "dsl/format/words.hpp"

namespace detent::dsl::format {
namespace {

/// Puts token after token on the last line, or on a new one.
class Builder {
 public:
  explicit Builder(Tokens& tokens) : tokens_(tokens) {}
  std::vector<Line> build();

 private:
  void add_comments(std::size_t at);
  void add_token(std::size_t at);
  void add_blank(std::size_t at, std::size_t line_ends);
  void begin_line(std::size_t at);
  [[nodiscard]] bool breaks_before(std::size_t at) const;
  [[nodiscard]] bool is_continued(const Comment& comment, std::size_t at) const;

  Tokens& tokens_;
  std::vector<Line> lines_;
  std::uint16_t depth_ = 0;  ///< of what came last
};

/// One empty line is left of several, but none inside a declaration, nor at either end of the text or of a
/// part.
void Builder::add_blank(std::size_t at, std::size_t line_ends) {
  const Token& token = tokens_[at];
  if (line_ends < 2 || lines_.empty() || lines_.back().is_blank()) return;
  if (token.role == Role::inner || token.depth > depth_) return;
  lines_.push_back({at, at});
}

/// A comment in the same column as the one at the end of the line above goes on with it.
bool Builder::is_continued(const Comment& comment, std::size_t at) const {
  if (tokens_[at].role == Role::inner || tokens_[at].role == Role::move || comment.line_ends != 1)
    return false;
  const Line& above = lines_.back();
  const bool at_end = above.comment != nullptr && (above.has_code() || above.continues);
  return at_end && above.comment->column == comment.column;
}

void Builder::add_comments(std::size_t at) {
  for (std::uint32_t i = tokens_[at].first_comment; i != tokens_[at].last_comment; ++i) {
    const Comment& comment = tokens_.comments[i];
    if (comment.line_ends == 0 && !lines_.empty()) {
      lines_.back().comment = &comment;
      continue;
    }
    add_blank(at, comment.line_ends);
    const bool continues = !lines_.empty() && is_continued(comment, at);
    lines_.push_back({at, at, &comment, continues});
    if (tokens_[at].role != Role::inner) depth_ = tokens_[at].depth;
  }
}

void Builder::begin_line(std::size_t at) {
  lines_.push_back({at, at + 1});
  if (tokens_[at].begins_claim) tokens_[tokens_[at].head].apart = true;
}

bool Builder::breaks_before(std::size_t at) const {
  const Token& token = tokens_[at];
  if (token.role != Role::inner || token.has_comments()) return true;
  return token.line_ends > 0 && may_begin_line(tokens_, at);
}

void Builder::add_token(std::size_t at) {
  const Token& token = tokens_[at];
  if (token.role == Role::end_of_text) return;
  const bool ends_part = token.role == Role::part_end;
  if (!ends_part) add_blank(at, token.line_ends);
  if (token.role != Role::inner)
    depth_ = ends_part ? static_cast<std::uint16_t>(token.depth - 1) : token.depth;
  if (breaks_before(at)) return begin_line(at);
  Line& line = lines_.back();
  if (token.line_ends > 0 && line.last - line.first > 1 && begins_piece(tokens_, at - 1)) {
    --line.last;
    begin_line(at - 1);
  }
  lines_.back().last = at + 1;
}

std::vector<Line> Builder::build() {
  for (std::size_t at = 0; at < tokens_.tokens.size(); ++at) {
    add_comments(at);
    add_token(at);
  }
  return std::move(lines_);
}

// ---- Where names and lines begin ----

constexpr std::size_t step = 2;

/// Declarations with a word that says what their name is; a part is a head of its own.
bool takes_part(const Tokens& tokens, std::size_t head) {
  const std::string_view word = tokens[head].text;
  return word != "design" && word != "tick" && word != "include" && word != "power_up" && word != "at" &&
         word != "part" && word != "end";
}

bool is_claim(std::string_view word) {
  return word == "claim" || word == "assume";
}

std::size_t indent_of_claim(const Token& head, const Token& token, std::size_t margin) {
  const bool further = head.apart && !token.begins_claim;
  return margin + (further ? 4 * step : 2 * step);
}

}  // namespace

std::vector<Line> lines_of(Tokens& tokens) {
  return Builder(tokens).build();
}

std::size_t indent_of(const Tokens& tokens, const Line& line) {
  const Token& token = tokens[line.first];
  const std::size_t margin = token.depth * step;
  if (token.role == Role::declaration || token.role == Role::end_of_text) return margin;
  if (token.role == Role::part_end) return line.has_code() ? margin - step : margin;
  if (token.role == Role::move) return margin + step;
  if (token.move != 0) return margin + 3 * step;
  const Token& head = tokens[token.head];
  if (is_claim(head.text)) return indent_of_claim(head, token, margin);
  if (head.text == "at") return margin + 2 * step;
  const bool chooses = token.text == "then" || token.text == "else";
  return head.name_column + (chooses ? step : 0);
}

void align_names(Tokens& tokens, const std::vector<Line>& lines) {
  std::vector<std::size_t> heads;
  std::size_t widest = 0;
  const auto close = [&] {
    for (const std::size_t head : heads) {
      const std::size_t pad = widest - tokens[head].text.size();
      tokens[head].name_column += static_cast<std::uint32_t>(pad);
      if (!tokens[head + 1].has_comments()) tokens[head + 1].pad = static_cast<std::uint32_t>(pad);
    }
    heads.clear();
    widest = 0;
  };
  for (const Line& line : lines) {
    if (line.is_blank()) close();
    if (!line.has_code() || tokens[line.first].head != line.first) continue;
    Token& head = tokens[line.first];
    head.name_column = static_cast<std::uint32_t>(head.depth * step + head.text.size() + 1);
    if (head.text == "part" || head.role == Role::part_end) close();
    if (!takes_part(tokens, line.first)) continue;
    heads.push_back(line.first);
    widest = std::max(widest, head.text.size());
  }
  close();
}

}  // namespace detent::dsl::format
