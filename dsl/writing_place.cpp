#include "dsl/writing_place.hpp"

#include <cstddef>

#include "dsl/grammar/words.hpp"

namespace detent::dsl {
namespace {

using Kind = LooseToken::Kind;
using Tokens = std::vector<LooseToken>;

/// Whether a place at the end of the text is still in a comment, or in a sentence that has no end yet.
bool in_words_for_people(std::string_view before, const Tokens& tokens) {
  if (tokens.empty() || tokens.back().end != before.size()) return false;
  const LooseToken& last = tokens.back();
  const bool open = last.text.size() < 2 || !last.text.ends_with('"');
  return last.kind == Kind::comment || (last.kind == Kind::sentence && open);
}

/// Leaves the tokens of the last declaration.
void cut_to_declaration(Tokens& tokens) {
  for (std::size_t i = tokens.size(); i-- > 0;) {
    const LooseToken& token = tokens[i];
    if (token.first_on_line && token.text == "end") break;
    if (token.first_on_line && grammar::contains(grammar::declaration_words, token.text)) {
      tokens.erase(tokens.begin(), tokens.begin() + static_cast<std::ptrdiff_t>(i));
      return;
    }
  }
  tokens.clear();
}

}  // namespace

WritingPlace writing_place(std::string_view before) {
  WritingPlace place{.begin = static_cast<std::uint32_t>(before.size()), .tokens = loose_tokens(before)};
  Tokens& tokens = place.tokens;
  const bool touches = !tokens.empty() && tokens.back().end == before.size();
  place.nothing_fits = in_words_for_people(before, tokens) || (touches && tokens.back().kind == Kind::number);
  if (touches && tokens.back().kind == Kind::word) {
    place.partial = tokens.back().text;
    place.begin = tokens.back().begin;
    tokens.pop_back();
  }
  std::erase_if(tokens, [](const LooseToken& token) {
    return token.kind == Kind::comment || token.kind == Kind::sentence;
  });
  place.new_line = tokens.empty() || before.substr(tokens.back().end).find('\n') != std::string_view::npos;
  cut_to_declaration(tokens);
  return place;
}

}  // namespace detent::dsl
