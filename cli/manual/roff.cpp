#include "cli/manual/roff.hpp"

#include <algorithm>
#include <cctype>
#include <sstream>
#include <vector>

namespace detent::cli::manual {
namespace {

constexpr std::size_t line_width = 78;

std::vector<std::string> words_of(std::string_view text) {
  std::istringstream stream{std::string(text)};
  std::vector<std::string> words;
  for (std::string word; stream >> word;) words.push_back(word);
  return words;
}

bool is_capital(char c) {
  return std::isupper(static_cast<unsigned char>(c)) != 0;
}
bool is_letter(char c) {
  return std::isalpha(static_cast<unsigned char>(c)) != 0;
}

/// "--claim", "-o": not "-100" and not a dash.
bool is_option(std::string_view word) {
  return word.size() > 1 && word[0] == '-' && (is_letter(word[1]) || (word[1] == '-' && word.size() > 2));
}

/// "FILE", "[LESSON]", "NAME.run", "\"N": something else is written in its place.
bool is_stand_in(std::string_view word) {
  const auto first = std::find_if(word.begin(), word.end(), is_letter);
  return first != word.end() && is_capital(*first) &&
         std::none_of(first, std::find(first, word.end(), '.'),
                      [](unsigned char c) { return std::islower(c) != 0; });
}

std::string in_font(char font, std::string_view word) {
  return std::string("\\f") + font + escaped(word) + "\\fR";
}

std::string usage_word(const std::string& word) {
  if (is_option(word)) return in_font('B', word);
  if (is_stand_in(word)) return in_font('I', word);
  return is_letter(word.front()) ? in_font('B', word) : escaped(word);
}

/// In running text options alone are set off.
std::string text_word(const std::string& word) {
  if (!is_option(word)) return escaped(word);
  const std::size_t end = word.find_last_not_of(".,;:)") + 1;
  return in_font('B', word.substr(0, end)) + escaped(word.substr(end));
}

/// A line that begins with a full stop or an apostrophe would be a command.
std::string as_line(const std::string& line) {
  return line.starts_with('.') || line.starts_with('\'') ? "\\&" + line : line;
}

struct Writer {
  Roff& roff;

  void operator()(const Paragraph& it) const { roff.paragraph(it.text); }
  void operator()(const Terms& it) const { write(it.all); }
  void write(const std::vector<Term>& terms) const {
    for (const Term& term : terms) {
      roff.line(".TP");
      roff.line(as_line(usage_line(term.name)));
      if (term.about.empty()) roff.line("\\&");
      roff.filled(term.about);
      if (term.kinds.empty()) continue;
      roff.line(".RS");
      write(term.kinds);
      roff.line(".RE");
    }
  }
  void operator()(const Points& it) const {
    for (const std::string& point : it.all) {
      roff.line(".IP \\(bu 2");
      roff.filled(point);
    }
  }
  void operator()(const Lines& it) const {
    roff.apart();
    roff.line(".nf");
    roff.line(".RS 4");
    for (const std::string& line : it.all) roff.line(as_line(escaped(line)));
    roff.line(".RE");
    roff.line(".fi");
  }
};

}  // namespace

std::string escaped(std::string_view text) {
  std::string roff;
  for (const char c : text) {
    switch (c) {
      case '\\':
        roff += "\\e";
        break;
      case '-':
        roff += "\\-";
        break;
      case '"':
        roff += "\\(dq";
        break;
      case '\'':
        roff += "\\(aq";
        break;
      case '`':
        roff += "\\(ga";
        break;
      case '^':
        roff += "\\(ha";
        break;
      case '~':
        roff += "\\(ti";
        break;
      default:
        roff += c;
    }
  }
  return roff;
}

std::string usage_line(std::string_view usage) {
  std::string line;
  bool quoted = false;  // "N ticks": all of it stands for something else
  for (const std::string& word : words_of(usage)) {
    quoted = quoted || word.starts_with('"');
    line += (line.empty() ? "" : " ") + (quoted ? in_font('I', word) : usage_word(word));
    quoted = quoted && !word.ends_with('"');
  }
  return line;
}

void Roff::title(const std::string& name, const std::string& date, const std::string& version) {
  std::string large = name;
  std::transform(large.begin(), large.end(), large.begin(),
                 [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  line(".\\\" Made from the help texts of detent.");
  line(".TH " + large + " 1 \"" + date + "\" \"detent " + version + "\" \"User Commands\"");
  line(".nh");
  line(".ad l");
}

void Roff::head(std::string_view words) {
  std::string large(words);
  std::transform(large.begin(), large.end(), large.begin(),
                 [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  line(".SH " + large);
  after_head_ = true;
}

void Roff::filled(std::string_view text) {
  std::string row;
  for (const std::string& word : words_of(text)) {
    const std::string more = text_word(word);
    if (!row.empty() && row.size() + more.size() >= line_width) {
      line(as_line(row));
      row.clear();
    }
    row += (row.empty() ? "" : " ") + more;
  }
  if (!row.empty()) line(as_line(row));
}

void Roff::apart() {
  if (!after_head_) line(".PP");
}

void Roff::line(const std::string& roff) {
  text_ += roff + '\n';
  after_head_ = false;
}

void Roff::paragraph(std::string_view text) {
  apart();
  filled(text);
}

void Roff::block(const Block& block) {
  std::visit(Writer{*this}, block);
}

}  // namespace detent::cli::manual
