// Told by the tree and by what stands beside a word, as dsl/README.md has it.
#include "word_kinds.hpp"

#include <algorithm>
#include <string_view>

#include "dsl/format/tokens.hpp"
#include "dsl/grammar.hpp"
#include "dsl/grammar/words.hpp"

namespace detent::test {
namespace {

using dsl::format::Kind;
using dsl::format::Role;
using dsl::format::Tokens;
using nlohmann::json;

bool is_place_word_in_place(const Tokens& tokens, std::size_t at) {
  const dsl::format::Token& token = tokens[at];
  const dsl::format::Token& last = tokens[at - 1];
  const std::string_view word = token.text;
  const std::string_view head = tokens[token.head].text;
  if (word == "carries") return head == "link" && (last.kind == Kind::text || at == token.head + 2);
  if (word == "lost") return head == "link" && tokens[at + 1].text == ":";
  if (word == "as") return last.text == ":" && tokens[at - 2].text == "lost";
  if (word == "before") return last.text == "as" && is_place_word_in_place(tokens, at - 1);
  if (word == "most" || word == "least") return last.text == "at";
  if (word == "per") return last.kind == Kind::unit || last.kind == Kind::number;
  if (word == "edges") return head == "power_up" && at == token.head + 1;
  if (word == "counted" || word == "ignored" || word == "either")
    return last.text == "edges" && head == "power_up";
  if (word == "off") return last.text == "starting" && head == "latch" && tokens[at - 2].text != ",";
  return head == "part" && (last.text == "(" || last.text == ",");
}

bool is_position(const Tokens& tokens, std::size_t at) {
  const std::string_view last = tokens[at - 1].text;
  if (last == "is" || last == "|" || last == "->") return tokens[at].text != "not";
  if (last == "not" && tokens[at - 2].text == "is") return true;
  if (tokens[at + 1].text == "->") return tokens[at].text != "any";
  if (!dsl::grammar::contains(dsl::grammar::position_words, tokens[at].text)) return false;
  if (tokens[at].begins_lost_value) return true;
  return last == "starting" && (tokens[tokens[at].head].text != "latch" || tokens[at - 2].text == ",");
}

const char* kind_of_word(const Tokens& tokens, std::size_t at) {
  const dsl::format::Token& token = tokens[at];
  if (token.role == Role::declaration || token.role == Role::part_end) return "declaration";
  if (token.text == "power_up") return "declaration";
  if (tokens[at - 1].text == "per" && is_place_word_in_place(tokens, at - 1)) return "unit";
  if (is_position(tokens, at)) return "position";
  if (dsl::grammar::contains(dsl::grammar::call_words, token.text)) return "call";
  if (dsl::grammar::is_reserved(token.text)) return "keyword";
  if (!dsl::grammar::contains(dsl::grammar::place_words, token.text)) return "name";
  return is_place_word_in_place(tokens, at) ? "keyword" : "name";
}

const char* kind_of(const Tokens& tokens, std::size_t at) {
  switch (tokens[at].kind) {
    case Kind::word:
      return kind_of_word(tokens, at);
    case Kind::number:
      return "number";
    case Kind::unit:
      return "unit";
    case Kind::text:
      return "text";
    case Kind::mark:
    case Kind::end_of_text:
      break;
  }
  return "mark";
}

/// UTF-16, as JavaScript counts.
std::size_t length_of(std::string_view text) {
  std::size_t length = 0;
  for (const char byte : text) {
    const auto code = static_cast<unsigned char>(byte);
    length += (code & 0xC0U) != 0x80U ? 1 : 0;
    length += code >= 0xF0U ? 1 : 0;
  }
  return length;
}

json place_of(const std::string& text, std::string_view word, const char* kind) {
  const auto at = static_cast<std::size_t>(word.data() - text.data());
  const std::size_t line = text.rfind('\n', at == 0 ? 0 : at - 1);
  const std::size_t begin = line == text.npos || at == 0 ? 0 : line + 1;
  const std::size_t column = length_of(std::string_view(text).substr(begin, at - begin));
  return {{"line", std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n')},
          {"begin", column},
          {"end", column + length_of(word)},
          {"kind", kind}};
}

}  // namespace

json design_of(const std::string& name, const std::string& text, std::set<std::string>& seen) {
  dsl::Sources sources;
  dsl::Diagnostics diagnostics;
  const std::uint32_t file = sources.add(name, text);
  const dsl::Tree tree = dsl::parse(sources, file, diagnostics);
  if (dsl::has_errors(diagnostics)) return {};
  const std::string own(sources.text(file));
  const Tokens tokens = dsl::format::tokens_of(own, file, tree);
  json words = json::array();
  for (std::size_t at = 0; at + 1 < tokens.tokens.size(); ++at) {
    const char* kind = kind_of(tokens, at);
    words.push_back(place_of(own, tokens[at].text, kind));
    if (kind == std::string("name") || kind == std::string("position")) continue;
    seen.insert(std::string(tokens[at].text));
    seen.insert(kind);
  }
  for (const auto& comment : tokens.comments) words.push_back(place_of(own, comment.text, "comment"));
  return {{"name", name}, {"text", own}, {"words", words}};
}

}  // namespace detent::test
