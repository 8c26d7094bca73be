#include "tests/support/mangle.hpp"

#include <cctype>
#include <string_view>

namespace detent::test {
namespace {

bool in_word(char byte) {
  return std::isalnum(static_cast<unsigned char>(byte)) != 0 || byte == '_' || byte == '.';
}

bool is_digit(char byte) {
  return std::isdigit(static_cast<unsigned char>(byte)) != 0;
}

std::size_t end_of_line(const std::string& text, std::size_t at) {
  return std::min(text.find('\n', at), text.size());
}

/// Where the word that begins here ends: a name, a number, a sentence or a mark.
std::size_t end_of_word(const std::string& text, std::size_t at) {
  if (text[at] == '"') return text.find('"', at + 1) + 1;
  if (is_digit(text[at])) {
    while (at < text.size() && (is_digit(text[at]) || text[at] == '.')) ++at;
    return at;
  }
  if (in_word(text[at])) {
    while (at < text.size() && in_word(text[at])) ++at;
    return at;
  }
  for (const std::string_view mark : {"->", "==", "!=", "<=", ">="}) {
    if (text.compare(at, 2, mark) == 0) return at + 2;
  }
  return at + 1;
}

/// Calls `word(begin, end)` and `comment(begin, end)` for what stands in the text, and `line()` at line ends.
template <class OnWord, class OnComment, class OnLine>
void go_through(const std::string& text, OnWord word, OnComment comment, OnLine line) {
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t begin = at;
    if (text.compare(at, 2, "//") == 0) {
      comment(begin, at = end_of_line(text, at));
    } else if (text[at] > ' ' && text[at] <= '~') {
      word(begin, at = end_of_word(text, at));
    } else {
      if (text[at++] == '\n') line();
    }
  }
}

bool is_bracket_or_comma(const Word& word) {
  return word.text == "(" || word.text == ")" || word.text == "," || word.text == ":" || word.text == "|";
}

std::string blanks(Chance& chance) {
  std::string made(1, ' ');
  while (chance.one_in(3)) made += chance.one_in(4) ? '\t' : ' ';
  return made;
}

std::string comment(Chance& chance) {
  static const std::vector<std::string> said{
      "//",        "// why",       "// \"half a sentence", "//never  stop",
      "/// three", "// 8 s, 停 ø", "//\ttab \t ",          "// claim a: never b // twice"};
  return chance.pick(said);
}

std::string line_ends(Chance& chance) {
  std::string made = chance.one_in(3) ? blanks(chance) : "";
  do {
    if (chance.one_in(12)) made += comment(chance);
    made += '\n';
    if (chance.one_in(2)) made += blanks(chance);
  } while (chance.one_in(4));
  return made;
}

/// A number and what stood behind it on its line stay on one line, and what stood below it stays below: only
/// so is a unit a unit.
std::string between(const Word& last, const Word& next, Chance& chance) {
  const bool number = is_digit(last.text.front());
  const bool unit = number && (in_word(next.text.front()) || next.text == "%");
  if (unit && next.on_new_line) return line_ends(chance);
  const bool may_touch = unit || is_bracket_or_comma(last) || is_bracket_or_comma(next);
  if (may_touch && chance.one_in(3)) return "";
  if (unit || !chance.one_in(next.on_new_line ? 2 : 5)) return blanks(chance);
  return line_ends(chance);
}

std::string with_line_ends(const std::string& text, std::string_view line_end) {
  std::string changed;
  for (const char byte : text) byte == '\n' ? changed.append(line_end) : changed.append(1, byte);
  return changed;
}

}  // namespace

std::vector<Word> words_of(const std::string& text) {
  std::vector<Word> words;
  bool on_new_line = false;
  go_through(
      text,
      [&](std::size_t begin, std::size_t end) {
        words.push_back({text.substr(begin, end - begin), on_new_line});
        on_new_line = false;
      },
      [](std::size_t, std::size_t) {}, [&] { on_new_line = true; });
  return words;
}

std::vector<std::string> comments_of(const std::string& text) {
  std::vector<std::string> comments;
  go_through(
      text, [](std::size_t, std::size_t) {},
      [&](std::size_t begin, std::size_t end) {
        std::string comment = text.substr(begin, end - begin);
        comment.erase(comment.find_last_not_of(" \t\r") + 1);
        comments.push_back(comment);
      },
      [] {});
  return comments;
}

std::string with_other_blanks(const std::string& text, Chance& chance) {
  std::string made;
  std::size_t last = 0;
  const auto keep = [&](std::size_t begin, std::size_t end) {
    const bool line_before = made.empty() || made.back() == '\n';
    if (begin > last || (line_before && chance.one_in(2))) made += blanks(chance);
    made += text.substr(begin, end - begin);
    last = end;
  };
  std::size_t line = 0;
  const auto end_line = [&] {
    if (chance.one_in(3)) made += blanks(chance);
    made += '\n';
    line = text.find('\n', line) + 1;
    last = line;
  };
  go_through(text, keep, keep, end_line);
  return made;
}

std::string mangled(const std::string& text, Chance& chance) {
  const std::vector<Word> words = words_of(text);
  std::string made = chance.one_in(2) ? line_ends(chance) : "";
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) made += between(words[i - 1], words[i], chance);
    made += words[i].text;
  }
  if (chance.one_in(2)) made += line_ends(chance);
  return with_line_ends(made, chance.one_in(4) ? "\r\n" : "\n");
}

}  // namespace detent::test
