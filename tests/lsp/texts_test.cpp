// Texts as they are edited: places in UTF-16 (LSP 3.17, Position; read), edits one by one against the whole
// text.
#include <fmt/format.h>

#include "cli/lsp/document.hpp"
#include "cli/lsp/text_edits.hpp"
#include "dsl/utf8.hpp"
#include "tests/lsp/talk.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chance.hpp"
#include "tests/support/shipped.hpp"

namespace detent::test {
namespace {

using cli::lsp::Document;
using cli::lsp::Encoding;
using cli::lsp::LineMap;
using cli::lsp::Position;

const std::vector<std::string> pieces{"a",
                                      "tick 20 ms\n",
                                      "\n",
                                      "\r\n",
                                      "\r",
                                      "\xc3\xa4",
                                      "\xe2\x82\xac",
                                      "\xf0\x9f\x9a\xa4",
                                      "button b\n",
                                      " ",
                                      "\"",
                                      "claim c: always b\r\n",
                                      "\xf0\x90\x90\x80"
                                      "x",
                                      ""};

std::string some_text(Chance& chance, std::size_t most) {
  std::string text;
  for (std::size_t i = chance.below(most); i > 0; --i) text += chance.pick(pieces);
  return text;
}

/// Where characters begin.
std::vector<std::size_t> boundaries(const std::string& text) {
  std::vector<std::size_t> all;
  for (std::size_t at = 0; at < text.size(); at += dsl::character_at(text, at).size) {
    const bool in_line_end = at > 0 && text[at] == '\n' && text[at - 1] == '\r';
    if (!in_line_end) all.push_back(at);
  }
  all.push_back(text.size());
  return all;
}

/// By the words of the specification, character by character, with no table of lines.
Position slow_position(const std::string& text, std::size_t offset, Encoding encoding) {
  Position position;
  for (std::size_t at = 0; at < offset;) {
    const dsl::Character one = dsl::character_at(text, at);
    const bool both = text.compare(at, 2, "\r\n") == 0;
    if (one.code == '\n' || one.code == '\r') {
      ++position.line;
      position.character = 0;
      at += both ? 2 : 1;
    } else {
      position.character +=
          encoding == Encoding::utf8 ? static_cast<std::uint32_t>(one.size) : (one.code > 0xFFFF ? 2U : 1U);
      at += one.size;
    }
  }
  return position;
}

}  // namespace

TEST_CASE("places in UTF-16 and UTF-8, there and back", "[lsp]") {
  Chance chance(3);
  for (int round = 0; round < 300; ++round) {
    const std::string text = some_text(chance, 30);
    const LineMap lines(text);
    for (const Encoding encoding : {Encoding::utf16, Encoding::utf8}) {
      for (const std::size_t offset : boundaries(text)) {
        const Position position = lines.position(text, offset, encoding);
        CHECK(position == slow_position(text, offset, encoding));
        CHECK(lines.offset(text, position, encoding) == offset);
      }
    }
  }
}

TEST_CASE("a boat is two units of UTF-16, and its middle is its begin", "[lsp]") {
  const std::string text = "\xf0\x9f\x9a\xa4\xc3\xa4x\n";
  const LineMap lines(text);
  CHECK(lines.offset(text, {0, 2}, Encoding::utf16) == 4);
  CHECK(lines.offset(text, {0, 1}, Encoding::utf16) == 0);
  CHECK(lines.offset(text, {0, 3}, Encoding::utf16) == 6);
  CHECK(lines.offset(text, {0, 99}, Encoding::utf16) == 7);  // the end of the line, not behind it
  CHECK(lines.offset(text, {9, 0}, Encoding::utf16) == text.size());
  CHECK(lines.position(text, 6, Encoding::utf16) == Position{0, 3});
  CHECK(lines.position(text, 6, Encoding::utf8) == Position{0, 6});
}

TEST_CASE("a row of edits is the text that it makes", "[lsp]") {
  Chance chance(5);
  for (int round = 0; round < 200; ++round) {
    const Encoding encoding = chance.one_in(2) ? Encoding::utf16 : Encoding::utf8;
    std::string text = some_text(chance, 40);
    Document document("file:///a.detent", text, 1);
    for (int version = 2; version < 12; ++version) {
      Json changes = Json::array();
      for (std::size_t i = chance.below(4); i > 0; --i) {
        const auto places = boundaries(text);
        auto [begin, end] = std::minmax(chance.pick(places), chance.pick(places));
        const std::size_t from = begin;
        const std::size_t to = end;
        const std::string piece = some_text(chance, 4);
        if (chance.one_in(10)) {
          text = some_text(chance, 40);
          changes.push_back({{"text", text}});
          continue;
        }
        changes.push_back(
            {{"range", json_range(slow_position(text, from, encoding), slow_position(text, to, encoding))},
             {"text", piece}});
        text.replace(from, to - from, piece);
      }
      document.change(changes, version, encoding);
      REQUIRE(document.text() == text);
      CHECK(document.version() == version);
    }
  }
}

TEST_CASE("edited bit by bit or opened whole, a design says the same", "[lsp]") {
  const std::string uri = "file:///edited.detent";
  const std::string other = "file:///whole.detent";
  Chance chance(9);
  for (const char* name : {"boat/pump_jet.detent", "functions/muting.detent"}) {
    std::string text = shipped_text(name);
    Talk talk({.prove = false});
    talk.open(uri, text);
    for (int version = 2; version < 40; ++version) {
      const auto places = boundaries(text);
      const std::size_t begin = chance.pick(places);
      const std::size_t end = std::min(text.size(), begin + chance.below(3));
      if (slow_position(text, end, Encoding::utf16).line != slow_position(text, begin, Encoding::utf16).line)
        continue;
      const std::string piece =
          chance.pick(std::vector<std::string>{"", "x", " ", "\n", "9", "\xf0\x9f\x9a\xa4", "latch "});
      talk.change(uri,
                  Json::array({{{"range", json_range(slow_position(text, begin, Encoding::utf16),
                                                     slow_position(text, end, Encoding::utf16))},
                                {"text", piece}}}),
                  version);
      text.replace(begin, end - begin, piece);
      talk.let_pass(std::chrono::milliseconds(200));
      talk.open(other, text);
      REQUIRE(talk.diagnostics(uri) == talk.diagnostics(other));
      talk.close(other);
    }
  }
}

TEST_CASE("ten texts at once keep apart, and diagnostics come with their version", "[lsp]") {
  Talk talk({.prove = false});
  for (int i = 0; i < 10; ++i) {
    talk.open(fmt::format("file:///d/{}.detent", i),
              fmt::format("tick 20 ms\nbutton b{}\noutput o = c{}\n", i, i), i);
  }
  for (int i = 0; i < 10; ++i) {
    const Json all = talk.diagnostics(fmt::format("file:///d/{}.detent", i));
    CHECK(all.dump().find(fmt::format("'c{}'", i)) != std::string::npos);
  }
  talk.change("file:///d/4.detent",
              Json::array({{{"text", "tick 20 ms\nbutton b\noutput o = b\nclaim c: possible o\n"}}}), 77);
  const std::size_t before = talk.messages().size();
  talk.let_pass(std::chrono::milliseconds(10));
  CHECK(talk.messages().size() == before);  // it waits for the next keystroke
  talk.let_pass(std::chrono::milliseconds(200));
  REQUIRE(talk.messages().size() == before + 1);
  CHECK(talk.messages().back()["params"]["version"] == 77);
  CHECK(talk.messages().back()["params"]["diagnostics"].empty());
  talk.close("file:///d/5.detent");
  CHECK(talk.diagnostics("file:///d/5.detent").empty());
  CHECK(!talk.diagnostics("file:///d/6.detent").empty());
}

TEST_CASE("edits between two texts make one of the other, and are small", "[lsp]") {
  Chance chance(13);
  for (int round = 0; round < 500; ++round) {
    const std::string before = some_text(chance, 30);
    std::string after = chance.one_in(3) ? some_text(chance, 30) : before;
    if (!after.empty() && chance.one_in(2)) after.insert(chance.pick(boundaries(after)), " ");
    std::string made = before;
    const auto edits = cli::lsp::edits_between(before, after);
    for (auto edit = edits.rbegin(); edit != edits.rend(); ++edit) {
      made.replace(edit->begin, edit->end - edit->begin, edit->text);
      const auto places = boundaries(before);
      CHECK(std::find(places.begin(), places.end(), edit->begin) != places.end());
      CHECK(std::find(places.begin(), places.end(), edit->end) != places.end());
    }
    CHECK(made == after);
    if (before == after) CHECK(edits.empty());
  }
  const auto edits = cli::lsp::edits_between("a\nb  c\nd\ne\n", "a\nb c\nd\nf\ne\n");
  REQUIRE(edits.size() == 2);
  CHECK(edits[0].end - edits[0].begin == 1);
  CHECK(edits[1].text == "f\n");
}

}  // namespace detent::test
