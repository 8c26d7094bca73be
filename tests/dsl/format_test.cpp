// The layout, rule by rule, and on every text that comes with the program.
#include "dsl/format.hpp"

#include <filesystem>

#include "case_file.hpp"
#include "page_blocks.hpp"
#include "tests/fuzz/layout.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/mangle.hpp"
#include "tests/support/shipped.hpp"

using namespace detent;

namespace {

std::string laid_out(const std::string& text) {
  const std::optional<std::string> made = fuzz::formatted(text);
  REQUIRE(made.has_value());
  CHECK(fuzz::formatted(*made) == made);
  CHECK(test::comments_of(text) == test::comments_of(*made));
  return *made;
}

void check_stays(const std::string& text) {
  CHECK(laid_out(text) == text);
}

}  // namespace

TEST_CASE("one blank between words, and none where none belongs", "[format]") {
  CHECK(laid_out("signal   a=( b+2*- c )>=-8 %and not( d )\n") ==
        "signal a = (b + 2 * -c) >= -8 % and not (d)\n");
  CHECK(laid_out("delay d on rises (a)for 8s\n") == "delay d on rises(a) for 8 s\n");
  CHECK(laid_out("signal m = max( 3min , 4 )-1 tick\n") == "signal m = max(3 min, 4) - 1 tick\n");
  CHECK(laid_out("link r carries a,b lost :a -5 %,b(3)\n") == "link r carries a, b lost: a -5 %, b (3)\n");
  CHECK(laid_out("use p=q( a,g.ok )\n") == "use p = q(a, g.ok)\n");
  CHECK(laid_out("part q ( condition a ,level b)end\n") == "part q(condition a, level b)\nend\n");
  CHECK(laid_out("switch s \"a  b\t c\"is on|off\n") == "switch s \"a  b\t c\" is on | off\n");
  CHECK(laid_out("claim c:whenever a:b within 3tick\n") == "claim c: whenever a: b within 3 tick\n");
}

TEST_CASE("what begins a declaration, a line of stages or the end of a part begins a line", "[format]") {
  CHECK(laid_out("design \"d\" tick 20 ms button a stages s is x|up x->up when a up->x after 3 tick part p() "
                 "signal b "
                 "= true end use q = p()") ==
        "design \"d\"\n"
        "tick 20 ms\n"
        "button a\n"
        "stages s is x | up\n"
        "  x  -> up when a\n"
        "  up -> x  after 3 tick\n"
        "part p()\n"
        "  signal b = true\n"
        "end\n"
        "use q = p()\n");
}

TEST_CASE("a unit is one on its number's line only", "[format]") {
  check_stays(
      "stages s is x | y\n"
      "  x -> y after 3\n"
      "  y -> x after 3\n");
}

TEST_CASE("breaks stay where a piece begins, move before an operator, and go elsewhere", "[format]") {
  CHECK(laid_out("latch\nlive\n\"s\"\nset a\n  and b reset c or\nd\n") ==
        "latch live \"s\"\n"
        "      set a\n"
        "      and b reset c\n"
        "      or d\n");
  CHECK(laid_out("output jet \"s\" =\nif a then 1\nelse 2\n") ==
        "output jet \"s\"\n"
        "       = if a then 1\n"
        "         else 2\n");
  CHECK(laid_out("claim c \"s\":\nwhenever a:\n b and\n c within 2 s\n") ==
        "claim c \"s\":\n"
        "    whenever a:\n"
        "        b\n"
        "        and c within 2 s\n");
  CHECK(laid_out("at power_up:\nnot a\n") == "at power_up:\n    not a\n");
  CHECK(laid_out("assume c: always a\nand b\n") == "assume c: always a\n    and b\n");
}

TEST_CASE("names stand in one column up to the next empty line", "[format]") {
  check_stays(
      "channel x from 0 to 1\n"
      "button  a\n"
      "// between\n"
      "use     b = p(a,\n"
      "        x)\n"
      "\n"
      "button a\n"
      "tick 20 ms\n"
      "delay  b on a for 1 s\n");
}

TEST_CASE("rows stand in columns: values without a sentence, and lines of stages", "[format]") {
  check_stays(
      "signal a     = x\n"
      "signal other = y\n"
      "output o = y\n"
      "signal a = x\n"
      "signal other \"s\" = y\n");
  check_stays(
      "stages s is first | on | third\n"
      "  any   -> first when a\n"
      "  first -> on    after 1 s\n"
      "      when b\n"
      "  // third\n"
      "  on    -> third when b\n"
      "\n"
      "  third -> on when b\n");
}

TEST_CASE("a long line is broken at its best place", "[format]") {
  const std::string names = "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaa or bbbbbbbbbbbbbbbbbbbbbbbbbbbbbb";
  CHECK(laid_out("latch l \"a sentence\" set " + names + " reset cccccccccccccccccccccccccccccccc\n") ==
        "latch l \"a sentence\" set " + names + "\n      reset cccccccccccccccccccccccccccccccc\n");
  CHECK(laid_out("claim c \"a sentence of some words\": whenever " + names + ": " + names + "\n") ==
        "claim c \"a sentence of some words\":\n    whenever " + names + ":\n        " + names + "\n");
  const std::string sentence(150, 's');
  check_stays("button a \"" + sentence + "\"\n");
  CHECK(laid_out("signal a \"" + sentence + "\" = b\n") == "signal a \"" + sentence + "\"\n       = b\n");
  // 120 columns are not too long.
  const std::string fits =
      "signal " + std::string(40, 'a') + " = " + std::string(40, 'b') + " or " + std::string(26, 'c');
  REQUIRE(dsl::line_columns == fits.size());
  check_stays(fits + "\n");
  CHECK(laid_out(fits + "c\n") == "signal " + std::string(40, 'a') + " = " + std::string(40, 'b') +
                                      "\n       or " + std::string(27, 'c') + "\n");
}

TEST_CASE("one empty line is left, and none at the ends of text and part", "[format]") {
  CHECK(laid_out("\n\n// a\n\n\n\nbutton a\npart p()\n\n\n  signal b = c\n\n  signal d = c\n\nend\n\n\n") ==
        "// a\n\nbutton a\npart p()\n  signal b = c\n\n  signal d = c\nend\n");
  CHECK(laid_out("signal a\n\n\n = b\n") == "signal a\n       = b\n");
}

TEST_CASE("comments stay behind their words and on their lines", "[format]") {
  CHECK(
      laid_out("// first\nbutton a // one\nbutton other     // two\n                 // and more\n  // own\n"
               "button b\n") ==
      "// first\n"
      "button a      // one\n"
      "button other  // two\n"
      "              // and more\n"
      "// own\n"
      "button b\n");
  CHECK(laid_out("signal a = b // why b\n// or\n or c\npart p()\n// in\nend // of p\n// last\n\n\n") ==
        "signal a = b  // why b\n"
        "       // or\n"
        "       or c\n"
        "part p()\n"
        "  // in\n"
        "end  // of p\n"
        "// last\n");
  CHECK(laid_out("") == "");
  CHECK(laid_out("\n \n") == "");
  CHECK(laid_out("// alone") == "// alone\n");
}

TEST_CASE("line ends and the byte order mark stay as they are", "[format]") {
  CHECK(laid_out("button  a\r\n// c \r\nbutton b") == "button a\r\n// c\r\nbutton b\r\n");
  CHECK(laid_out("button  a\r\nbutton b\nbutton c\n") == "button a\nbutton b\nbutton c\n");
  CHECK(laid_out("\xEF\xBB\xBF"
                 "button  a\n") ==
        "\xEF\xBB\xBF"
        "button a\n");
}

TEST_CASE("a text that can't be read is not laid out, and what is wrong is said", "[format]") {
  for (const char* text : {"signal a = (b\n", "signal a = \xE2\x80\x93 1\n", "part p()\n", "tick\n"}) {
    dsl::Sources sources;
    sources.add("t.detent", text);
    dsl::Diagnostics diagnostics;
    CHECK_FALSE(dsl::format_text(sources, 0, diagnostics).has_value());
    CHECK(dsl::has_errors(diagnostics));
  }
  // What only the checker finds is no hindrance.
  CHECK(laid_out("signal a  = nobody_knows\n") == "signal a = nobody_knows\n");
}

TEST_CASE("every design that comes with the program is laid out", "[format]") {
  const std::vector<std::string> files = test::shipped_files();
  REQUIRE(files.size() > 50);
  for (const std::string& file : files) {
    INFO(file);
    check_stays(test::text_of_file(file));
  }
}

TEST_CASE("every design on the reference page is laid out", "[format]") {
  const test::Page page = test::blocks_of(test::text_of_file(DETENT_SOURCE_DIR "/dsl/README.md"));
  REQUIRE(page.designs.size() > 25);
  for (const test::DesignBlock& block : page.designs) {
    INFO("dsl/README.md:" << block.line);
    if (fuzz::formatted(block.text)) check_stays(block.text);
  }
  for (const auto& [name, text] : page.files) check_stays(text);
}

TEST_CASE("cases keep their meaning when they are laid out", "[format]") {
  std::size_t laid = 0;
  for (const test::CaseFile& file : test::case_files()) {
    INFO(file.shown);
    const std::string text = test::text_of_file(file.path);
    const auto compile = [&](const std::string& main) {
      return dsl::compile(file.path, [&](const std::string& path) {
        if (path == file.path) return dsl::FileText{main};
        if (!std::filesystem::is_regular_file(path)) return dsl::FileText{std::nullopt, "is no file"};
        return dsl::FileText{test::text_of_file(path)};
      });
    };
    CHECK(fuzz::check_layout(text, compile).broken_promise == "");
    if (!fuzz::formatted(text)) continue;
    laid_out(text);
    ++laid;
  }
  CHECK(laid > 100);
}
