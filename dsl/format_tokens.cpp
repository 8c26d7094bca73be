// Takes a text apart with the grammar's own hand (grammar::Reading), so that there is one opinion of what a
// token is (a unit belongs to its number only on the same line), and marks the tokens by the places in the
// tree.
#include <algorithm>
#include <utility>

#include "dsl/format/tokens.hpp"
#include "dsl/grammar/bytes.hpp"
#include "dsl/utf8.hpp"

namespace detent::dsl::format {
namespace {

using grammar::Cursor;

class Scanner {
 public:
  Scanner(std::string_view text, std::uint32_t file) : reading_(text, file, {}) {}
  Tokens scan();

 private:
  void take_white();
  void take_comment();
  void take_token();
  void add(Kind kind, Cursor end);
  void add_number();
  [[nodiscard]] Cursor end_of_word() const;
  [[nodiscard]] Cursor end_of_number();

  grammar::Reading reading_;
  Cursor at_ = reading_.begin();
  std::uint32_t line_ends_ = 0;
  std::uint32_t brackets_ = 0;
  Tokens found_;
};

void Scanner::take_comment() {
  const Cursor line = reading_.line_begin(at_);
  const Cursor end = grammar::end_of_line(at_, reading_.end());
  Cursor last = end;
  while (last != at_ && (grammar::is_blank(last[-1]) || last[-1] == '\r')) --last;
  found_.comments.push_back({{at_, static_cast<std::size_t>(last - at_)},
                             line_ends_,
                             width_of({line, static_cast<std::size_t>(at_ - line)})});
  line_ends_ = 0;
  at_ = end;
}

void Scanner::take_white() {
  for (;;) {
    for (; at_ != reading_.end() && grammar::is_white(*at_); ++at_) {
      if (*at_ == '\n') ++line_ends_;
    }
    if (reading_.end() - at_ < 2 || at_[0] != '/' || at_[1] != '/') return;
    take_comment();
  }
}

/// g.ok is one token.
Cursor Scanner::end_of_word() const {
  Cursor end = at_;
  for (std::string_view word = reading_.word_at(at_); !word.empty(); word = reading_.word_at(end + 1)) {
    end = word.data() + word.size();
    if (end == reading_.end() || *end != '.') break;
  }
  return end;
}

/// The unit too, if there is one.
Cursor Scanner::end_of_number() {
  Expr number;
  Cursor behind = at_;
  reading_.take_quantity(behind, number);
  return reading_.begin() + number.place.end;
}

void Scanner::add(Kind kind, Cursor end) {
  const std::uint32_t first = found_.tokens.empty() ? 0 : found_.tokens.back().last_comment;
  Token& token = found_.tokens.emplace_back();
  token.text = {at_, static_cast<std::size_t>(end - at_)};
  token.begin = static_cast<std::uint32_t>(at_ - reading_.begin());
  token.line_ends = std::exchange(line_ends_, 0);
  token.first_comment = first;
  token.last_comment = static_cast<std::uint32_t>(found_.comments.size());
  token.brackets = brackets_;
  token.kind = kind;
  if (token.text == "(") ++brackets_;
  if (token.text == ")") --brackets_;
  at_ = end;
}

void Scanner::add_number() {
  const Cursor end = end_of_number();
  const auto is_of_number = [](char byte) { return grammar::is_digit(byte) || byte == '.'; };
  add(Kind::number, std::find_if_not(at_, end, is_of_number));
  at_ = std::find_if_not(at_, end, grammar::is_blank);
  if (at_ != end) add(Kind::unit, end);
}

void Scanner::take_token() {
  if (at_ == reading_.end()) {
    add(Kind::end_of_text, at_);
    found_.tokens.back().role = Role::end_of_text;
  } else if (grammar::is_digit(*at_)) {
    add_number();
  } else if (grammar::begins_word(*at_)) {
    add(Kind::word, end_of_word());
  } else {
    add(*at_ == '"' ? Kind::text : Kind::mark, at_ + reading_.token_at(at_).size());
  }
}

Tokens Scanner::scan() {
  do {
    take_white();
    take_token();
  } while (found_.tokens.back().kind != Kind::end_of_text);
  return std::move(found_);
}

/// Goes along the tree and the tokens, and tells each token what it is.
class Marker {
 public:
  explicit Marker(Tokens& tokens) : tokens_(tokens) {}
  void mark(const std::vector<Declaration>& declarations);
  void spread();

 private:
  Token& at(const Place& place) {
    const auto before = [](const Token& token, std::uint32_t begin) { return token.begin < begin; };
    return *std::lower_bound(tokens_.tokens.begin(), tokens_.tokens.end(), place.begin, before);
  }
  void mark(const Declaration& declaration);

  Tokens& tokens_;
};

void Marker::mark(const Declaration& declaration) {
  if (const auto* claim = std::get_if<ClaimDeclaration>(&declaration.body)) {
    at(claim->body.place).begins_claim = true;
  } else if (const auto* assume = std::get_if<AssumeDeclaration>(&declaration.body)) {
    at(assume->body.place).begins_claim = true;
  } else if (const auto* stages = std::get_if<StagesDeclaration>(&declaration.body)) {
    for (const Move& move : stages->moves) at(move.place).role = Role::move;
  } else if (const auto* link = std::get_if<LinkDeclaration>(&declaration.body)) {
    for (const LostValue& lost : link->values) at(lost.value.place).begins_lost_value = true;
  }
}

void Marker::mark(const std::vector<Declaration>& declarations) {
  for (const Declaration& declaration : declarations) {
    at(declaration.place).role = Role::declaration;
    mark(declaration);
    if (const auto* part = std::get_if<PartDeclaration>(&declaration.body)) mark(part->body);
  }
}

/// What is known of the token that begins something, for all that belong to it. `end` is one of the inside of
/// its part, as the comments before it are.
void Marker::spread() {
  std::uint32_t head = 0;
  std::uint32_t move = 0;
  std::uint16_t depth = 0;
  std::uint16_t open = 0;
  for (std::uint32_t i = 0; i < tokens_.tokens.size(); ++i) {
    Token& token = tokens_[i];
    if (token.role == Role::inner && token.kind == Kind::word && token.text == "end")
      token.role = Role::part_end;
    if (token.role == Role::move) move = i;
    if (token.role != Role::inner && token.role != Role::move) {
      head = i;
      move = 0;
      depth = open;
      if (token.text == "part") ++open;
      if (token.role == Role::part_end) --open;
    }
    token.head = head;
    token.move = move;
    token.depth = depth;
  }
}

}  // namespace

std::size_t width_of(std::string_view text) {
  constexpr std::size_t tab = 8;
  std::size_t width = 0;
  for (std::size_t at = 0; at < text.size();) {
    const Character character = character_at(text, at);
    at += character.size;
    width = character.code == '\t' ? (width / tab + 1) * tab
                                   : width + static_cast<std::size_t>(std::max(0, columns(character.code)));
  }
  return width;
}

Tokens tokens_of(std::string_view text, std::uint32_t file, const Tree& tree) {
  Tokens tokens = Scanner(text, file).scan();
  Marker marker(tokens);
  marker.mark(tree.declarations);
  marker.spread();
  return tokens;
}

}  // namespace detent::dsl::format
