// The one table of what words mean, against dsl/README.md: its reserved words, its table of functions, what
// each element is like, and the forms of claims.
#include "dsl/word_meanings.hpp"

#include <cctype>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>

#include "dsl/grammar/words.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/says.hpp"

namespace detent::test {
namespace {

using dsl::WordMeaning;
using dsl::WordSort;

std::vector<std::string> page_lines() {
  std::ifstream file(DETENT_SOURCE_DIR "/dsl/README.md");
  std::vector<std::string> lines;
  for (std::string line; std::getline(file, line);) lines.push_back(line);
  REQUIRE(lines.size() > 500);
  return lines;
}

std::string line_that_begins(const std::string& beginning) {
  for (const std::string& line : page_lines()) {
    if (line.starts_with(beginning)) return line;
  }
  FAIL("no line begins with " << beginning);
  return "";
}

/// The words in back quotes.
std::set<std::string> quoted_in(const std::string& line) {
  static const std::regex quotes("`([^`]*)`");
  std::set<std::string> words;
  for (std::sregex_iterator one(line.begin(), line.end(), quotes), end; one != end; ++one)
    words.insert((*one)[1]);
  return words;
}

std::set<std::string> words_of(WordSort sort) {
  std::set<std::string> words;
  for (const WordMeaning& one : dsl::word_meanings()) {
    if (one.sort == sort) CHECK(words.insert(std::string(one.word)).second);
  }
  return words;
}

template <class Table>
std::set<std::string> set_of(const Table& table) {
  return {table.begin(), table.end()};
}

std::vector<std::string> cells_of(const std::string& row) {
  std::vector<std::string> cells;
  std::istringstream stream(row);
  for (std::string cell; std::getline(stream, cell, '|');) {
    const std::size_t begin = cell.find_first_not_of(' ');
    cells.push_back(begin == std::string::npos ? ""
                                               : cell.substr(begin, cell.find_last_not_of(' ') + 1 - begin));
  }
  return cells;
}

}  // namespace

TEST_CASE("the table has every word of the language, and the page lists the same", "[lsp][words]") {
  CHECK(words_of(WordSort::declaration) == set_of(dsl::grammar::declaration_words));
  CHECK(words_of(WordSort::function) == set_of(dsl::grammar::call_words));
  CHECK(words_of(WordSort::inner) == set_of(dsl::grammar::inner_words));
  for (const std::string_view word : dsl::grammar::place_words)
    CHECK(words_of(WordSort::plain).contains(std::string(word)));
  CHECK(words_of(WordSort::declaration) == quoted_in(line_that_begins("Words that begin a declaration:")));
  CHECK(words_of(WordSort::function) == quoted_in(line_that_begins("Functions:")));
  CHECK(words_of(WordSort::inner) == quoted_in(line_that_begins("Words inside a declaration:")));
  for (const WordMeaning& one : dsl::word_meanings()) {
    INFO(one.word);
    CHECK(!one.meaning.empty());
    CHECK(dsl::meaning_of(one.word) != nullptr);
  }
  CHECK(dsl::meaning_of("thrust") == nullptr);
}

TEST_CASE("functions mean what the page's table says", "[lsp][words]") {
  for (const WordMeaning& one : dsl::word_meanings()) {
    if (one.sort != WordSort::function) continue;
    INFO(one.word);
    bool found = false;
    for (const std::string& line : page_lines()) {
      if (!line.starts_with("| `") || !quoted_in(line).contains(std::string(one.form))) continue;
      const auto cells = cells_of(line);
      if (cells.size() < 4 || cells[1].find('`' + std::string(one.form) + '`') == std::string::npos) continue;
      found = true;
      if (!cells[2].empty()) CHECK(cells[2] == one.meaning);
    }
    CHECK(found);
  }
}

TEST_CASE("elements are like what the page says, and are written as it says", "[lsp][words]") {
  std::size_t compared = 0;
  for (const std::string& line : page_lines()) {
    static const std::regex row(R"(\| \[`(\w+)`\]\(#[\w-]+\) \| ([^|]+) \|.*)");
    std::smatch found;
    if (!std::regex_match(line, found, row)) continue;
    const WordMeaning* word = dsl::meaning_of(found[1].str());
    INFO(line);
    REQUIRE(word != nullptr);
    CHECK(has(std::string(word->meaning), "Like " + found[2].str()));
    ++compared;
  }
  CHECK(compared == 9);
  const std::string page = [] {
    std::string all;
    for (const std::string& line : page_lines()) all += line + "\n";
    return all;
  }();
  // The forms in bold, without what stands in quotes.
  for (const char* word : {"channel", "switch", "button", "link", "pulse", "delay", "linger", "latch",
                           "counter", "keep", "stages", "tunable"}) {
    INFO(word);
    CHECK(has(page, "**`" + std::string(dsl::meaning_of(word)->form) + "`**"));
  }
}

TEST_CASE("claims mean what the page's table says", "[lsp][words]") {
  for (const WordMeaning& one : dsl::word_meanings()) {
    const bool begins_claim =
        one.word == "always" || one.word == "never" || one.word == "whenever" || one.word == "possible";
    if (!begins_claim) continue;
    const auto cells = cells_of(line_that_begins("| `" + std::string(one.form) + "`"));
    std::string words = cells.at(2);
    words.front() = static_cast<char>(std::toupper(words.front()));
    INFO(one.word);
    CHECK(words + "." == one.meaning);
  }
}

}  // namespace detent::test
