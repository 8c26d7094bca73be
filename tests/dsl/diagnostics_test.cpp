// Messages as a person reads them, their order, and the names that were probably meant.
#include "dsl/diagnostics.hpp"

#include "tests/support/catch.hpp"

using namespace detent::dsl;

namespace {

Diagnostic unknown(Place place, std::string mend = "") {
  return {Code::unknown_name, place, "no input or element is called so", std::move(mend)};
}

std::string shown(const std::string& text, Place place) {
  Sources sources;
  sources.add("t", text);
  return to_text(unknown(place), sources);
}

/// The two lines of the excerpt.
std::string excerpt(const std::string& text, Place place) {
  const std::string all = shown(text, place);
  return all.substr(all.find('\n') + 1);
}

}  // namespace

TEST_CASE("diagnostics: a message shows place, line, mark and mend") {
  Sources sources;
  sources.add("boat.detent", "tick 20 ms\nsignal idle = thurst <= -99 %\n");
  const Diagnostic diagnostic{
      Code::unknown_name, {0, 25, 31}, "no input or element is called 'thurst'", "did you mean 'thrust'?"};
  CHECK(to_text(diagnostic, sources) ==
        "boat.detent:2:15: error: no input or element is called 'thurst'  [unknown-name]\n"
        "  2 | signal idle = thurst <= -99 %\n"
        "    |               ^^^^^^\n"
        "  mend: did you mean 'thrust'?\n");
}

TEST_CASE("diagnostics: notes show their own file and line") {
  Sources sources;
  sources.add("a", "x\ny");
  sources.add("b", "\n\n  z");
  Diagnostic diagnostic{Code::declared_twice, {0, 2, 3}, "'y' is declared twice", "", {}};
  diagnostic.notes.push_back({{1, 4, 5}, "it is declared here first"});
  CHECK(to_text(diagnostic, sources) ==
        "a:2:1: error: 'y' is declared twice  [declared-twice]\n"
        "  2 | y\n"
        "    | ^\n"
        "  note: b:3:3: it is declared here first\n");
}

TEST_CASE("diagnostics: a warning is called a warning") {
  Sources sources;
  sources.add("t", "x");
  CHECK(to_text({Code::unused, {0, 0, 1}, "nothing uses 'x'"}, sources).find("t:1:1: warning: ") == 0);
}

TEST_CASE("diagnostics: tabs and characters of several bytes keep the mark below its place") {
  CHECK(excerpt("\tab", {0, 1, 3}) == "  1 |  ab\n    |  ^^\n");
  CHECK(excerpt("\xC3\xA4\xC3\xB6 ab", {0, 5, 7}) == "  1 | \xC3\xA4\xC3\xB6 ab\n    |    ^^\n");
  // U+4E2D is wide: two columns (Unicode Standard Annex 11, East Asian Width W; from memory).
  CHECK(excerpt("\xE4\xB8\xAD ab", {0, 4, 6}) == "  1 | \xE4\xB8\xAD ab\n    |    ^^\n");
  // U+0301 is a combining accent: no column of its own (general category Mn; from memory).
  CHECK(excerpt("e\xCC\x81 ab", {0, 4, 6}) == "  1 | e\xCC\x81 ab\n    |   ^^\n");
}

TEST_CASE("diagnostics: a place of no width, at the end of a line, is marked too") {
  CHECK(excerpt("ab", {0, 2, 2}) == "  1 | ab\n    |   ^\n");
}

TEST_CASE("diagnostics: a place over several lines is marked to the end of the first") {
  CHECK(excerpt("abc\ndef", {0, 1, 6}) == "  1 | abc\n    |  ^^\n");
}

TEST_CASE("diagnostics: an empty line is not shown") {
  CHECK(excerpt("", {0, 0, 0}).empty());
}

TEST_CASE("diagnostics: a very long line is cut round the place") {
  const std::string text = std::string(5000, 'a') + " HERE " + std::string(5000, 'b');
  const std::string all = excerpt(text, {0, 5001, 5005});
  const std::string line = all.substr(0, all.find('\n'));
  const std::string marks = all.substr(all.find('\n') + 1);
  CHECK(line.size() <= 130);
  CHECK(line.find("…") != std::string::npos);
  CHECK(line.find("…", line.find("HERE")) != std::string::npos);
  // One character, "…", has two bytes more than columns.
  CHECK(line.find("HERE") - 2 == marks.find("^^^^"));
}

TEST_CASE("diagnostics: a line that just fits is shown whole") {
  const std::string fits(110, 'a');
  CHECK(excerpt(fits, {0, 0, 1}).find(fits + "\n") != std::string::npos);
  CHECK(excerpt(fits + "b", {0, 0, 1}).find("b") == std::string::npos);
}

TEST_CASE("diagnostics: nothing that a terminal would obey is shown") {
  const std::string all = shown("a\x1B[31mb\x07\xFF\xE2\x80\xAE", {0, 0, 1});
  for (const char byte : all) CHECK((byte == '\n' || static_cast<unsigned char>(byte) >= 0x20));
  CHECK(all.find("\xFF") == std::string::npos);
  CHECK(all.find("\xE2\x80\xAE") == std::string::npos);  // right-to-left override
}

TEST_CASE("diagnostics: messages come in the order of the file, each once") {
  Diagnostics all{unknown({0, 9, 9}), unknown({1, 0, 1}), unknown({0, 2, 3}), unknown({0, 9, 9})};
  sort_by_place(all);
  REQUIRE(all.size() == 3);
  CHECK(all[0].place.begin == 2);
  CHECK(all[1].place.begin == 9);
  CHECK(all[2].place.file == 1);
}

TEST_CASE("diagnostics: errors are told from warnings") {
  CHECK_FALSE(has_errors({{Code::unused, {}, "", ""}}));
  CHECK(has_errors({{Code::unused, {}, "", ""}, unknown({})}));
  CHECK(code_name(Code::unknown_name) == "unknown_name");
  CHECK(code_severity(Code::no_claim) == Severity::warning);
}

// Distances by hand: one insertion, one deletion, one replacement, one swap of neighbours, each counts 1.
TEST_CASE("diagnostics: the nearest name is found, up to a third of the word") {
  const std::vector<std::string> known{"thrust", "yaw", "guard", "guards"};
  CHECK(nearest_name("thurst", known) == "thrust");
  CHECK(nearest_name("thrus", known) == "thrust");
  CHECK(nearest_name("thrrust", known) == "thrust");
  CHECK(nearest_name("throst", known) == "thrust");
  CHECK(nearest_name("yow", known) == "yaw");
  CHECK(nearest_name("gaurds", known) == "guards");
  CHECK(nearest_name("Guard", known) == "guard");
  CHECK(nearest_name("xrudst", known).empty());  // 3 of 6
  CHECK(nearest_name("xy", known).empty());
  CHECK(nearest_name("", known).empty());
  CHECK(nearest_name("thurst", {}).empty());
}
