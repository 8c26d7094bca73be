#include "dsl/loose_tokens.hpp"

#include <algorithm>
#include <array>

#include "dsl/grammar/bytes.hpp"

namespace detent::dsl {
namespace {

using Kind = LooseToken::Kind;

constexpr std::array<std::string_view, 5> double_marks{"->", "==", "!=", "<=", ">="};

template <class Wanted>
std::size_t end_of(std::string_view text, std::size_t at, Wanted wanted) {
  while (at < text.size() && wanted(text[at])) ++at;
  return at;
}

std::size_t end_of_line(std::string_view text, std::size_t at) {
  return std::min(text.find('\n', at), text.size());
}

/// Words with dots between them, and a dot at the end that a word may still come to follow.
std::size_t end_of_name(std::string_view text, std::size_t at) {
  at = end_of(text, at, grammar::is_word_character);
  while (at < text.size() && text[at] == '.') at = end_of(text, at + 1, grammar::is_word_character);
  return at;
}

LooseToken token_at(std::string_view text, std::size_t at) {
  LooseToken token;
  std::size_t end = at + 1;
  const std::string_view rest = text.substr(at);
  if (grammar::begins_word(text[at])) {
    token.kind = Kind::word;
    end = end_of_name(text, at);
  } else if (grammar::is_digit(text[at])) {
    token.kind = Kind::number;
    end = end_of(text, at, [](char byte) { return grammar::is_digit(byte) || byte == '.'; });
  } else if (rest.starts_with("//")) {
    token.kind = Kind::comment;
    end = end_of_line(text, at);
  } else if (text[at] == '"') {
    token.kind = Kind::sentence;
    const std::size_t line = end_of_line(text, at);
    end = std::min(text.find('"', at + 1), line);
    if (end < line) ++end;
  } else if (std::any_of(double_marks.begin(), double_marks.end(),
                         [&](std::string_view mark) { return rest.starts_with(mark); })) {
    end = at + 2;
  }
  token.text = text.substr(at, end - at);
  token.begin = static_cast<std::uint32_t>(at);
  token.end = static_cast<std::uint32_t>(end);
  return token;
}

}  // namespace

std::vector<LooseToken> loose_tokens(std::string_view text) {
  std::vector<LooseToken> tokens;
  bool new_line = true;
  for (std::size_t at = 0; at < text.size();) {
    if (grammar::is_white(text[at])) {
      new_line = new_line || text[at] == '\n';
      ++at;
      continue;
    }
    LooseToken token = token_at(text, at);
    token.first_on_line = new_line;
    token.same_line = !new_line && !tokens.empty();
    new_line = false;
    at = token.end;
    tokens.push_back(token);
  }
  return tokens;
}

}  // namespace detent::dsl
