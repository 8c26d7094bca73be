// Terminal hygiene, wrapping, and what may reach a terminal.
#include "cli/page.hpp"
#include "cli/result.hpp"
#include "tests/support/catch.hpp"

namespace detent::cli {

TEST_CASE("nothing that steers a terminal passes") {
  // C0 and C1 control characters and DEL: ECMA-48 §5. Marks that reorder text: Unicode UAX #9.
  CHECK(printable("a\x1b[31mb", true) == "a\uFFFD[31mb");
  CHECK(printable("a\x1b[31mb", false) == "a?[31mb");
  CHECK(printable("bell\a nul" + std::string(1, '\0'), false) == "bell? nul?");
  CHECK(printable("del\x7f", false) == "del?");
  CHECK(printable("csi\xC2\x9B"
                  "31m",
                  false) == "csi?31m");
  CHECK(printable("right\u202Eleft\u2066x\u200F", false) == "right?left?x?");
  CHECK(printable("line\nend\r", false) == "line?end?");
  CHECK(printable_lines("line\nend\r", false) == "line\nend?");
  CHECK(printable("a\tb", true) == "a b");
}

TEST_CASE("bytes that are no UTF-8 are replaced one by one") {
  // Well-formed sequences: The Unicode Standard, table 3-7 (from memory).
  CHECK(printable("\xFF", false) == "?");
  CHECK(printable("\xC0\xAF", false) == "??");            // overlong
  CHECK(printable("\xED\xA0\x80", false) == "???");       // a surrogate
  CHECK(printable("\xE2\x82", false) == "??");            // cut off
  CHECK(printable("\xF4\x90\x80\x80", false) == "????");  // above U+10FFFF
  CHECK(printable("caf\u00E9 \u20AC \U0001F6A4", true) == "caf\u00E9 \u20AC \U0001F6A4");
}

TEST_CASE("only render() writes escape sequences, and only if colour is wanted") {
  const Page page{{{"\x1b[2Jgood", Style::good}, {" plain  "}}};
  CHECK(render(page, {.color = false}) == "\uFFFD[2Jgood plain\n");
  CHECK(render(page, {.color = true}) == "\x1b[32m\uFFFD[2Jgood\x1b[0m plain\n");
}

TEST_CASE("text is broken at blanks, never between a number and its unit") {
  using Lines = std::vector<std::string>;
  CHECK(wrapped("one two three", 7) == Lines{"one two", "three"});
  CHECK(wrapped("one two three", 6) == Lines{"one", "two", "three"});
  CHECK(wrapped("extraordinary", 5) == Lines{"extraordinary"});
  CHECK(wrapped("goes to -80 %", 11) == Lines{"goes to", "-80 %"});
  CHECK(wrapped("for 2 min 5 s.", 10) == Lines{"for 2 min", "5 s."});
  CHECK(wrapped("", 5) == Lines{""});
}

TEST_CASE("text is shortened to columns, not bytes") {
  CHECK(shortened("abcdef", 6, true) == "abcdef");
  CHECK(shortened("abcdef", 4, true) == "abc\u2026");
  CHECK(shortened("abcdef", 4, false) == "abc~");
  CHECK(shortened("\u00E9\u00E9\u00E9\u00E9", 3, true) == "\u00E9\u00E9\u2026");
}

TEST_CASE("a usage error names what is wrong and the mend, cleaned") {
  const CommandResult result = usage_error("no '\x1b'", "write x");
  CHECK(result.errors == "detent: no '\uFFFD'\n  mend: write x\n");
  CHECK(result.output.empty());
  CHECK(result.status == Status::input_wrong);
}

}  // namespace detent::cli
