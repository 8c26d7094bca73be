// Mistakes of the text: what is said, where, and what is said to write instead.
#include "tests/dsl/reading_support.hpp"
#include "tests/support/catch.hpp"

using namespace detent::dsl;

namespace {

/// The one diagnostic of a text: "code | the text at its place | message | mend".
std::string only(const std::string& text) {
  const ReadText read = read_text(text);
  if (read.diagnostics.size() != 1) return "not one message:\n" + read.messages();
  const Diagnostic& it = read.diagnostics[0];
  return std::string(code_name(it.code)) + " | " + std::string(read.sources.text(it.place)) + " | " +
         it.message + " | " + it.mend;
}

using Texts = std::vector<std::string>;

}  // namespace

TEST_CASE("mistakes: what was expected, after what, and what stands there") {
  CHECK(only("pulse w on a for restarting") ==
        "syntax | restarting | expected a duration such as '8 s' after 'for', not 'restarting' | "
        "'restarting' is a word of the language and cannot be a name");
  CHECK(only("pulse w on a for\nbutton b") == "syntax |  | expected a duration such as '8 s' after 'for' | ");
  CHECK(only("pulse w on a for") ==
        "syntax |  | expected a duration such as '8 s' after 'for', but the text ends here | ");
  CHECK(only("signal a = b and") ==
        "syntax |  | expected a condition after 'and', but the text ends here | ");
}

TEST_CASE("mistakes: a value is missing on one side of an operator") {
  CHECK(only("signal a = and b") ==
        "syntax | and | expected a condition or a value after '=', not 'and' | 'and' stands between two "
        "values");
}

TEST_CASE("mistakes: a misspelt word inside a declaration") {
  CHECK(only("pulse w on a fro 8 s") ==
        "syntax | fro | expected 'for' and a duration such as 'for 8 s' after 'a', not 'fro' | did you mean "
        "'for'?");
  CHECK(only("pulse w on a for 8 s restartign") ==
        "syntax | restartign | expected an operator or the next declaration after '8 s', not 'restartign' | "
        "did you mean 'restarting'?");
  CHECK(only("power_up edges conted") ==
        "syntax | conted | expected 'counted', 'ignored' or 'either' after 'edges', not 'conted' | "
        "did you mean 'counted'?");
}

TEST_CASE("mistakes: a misspelt word at the beginning of a declaration") {
  CHECK(only("swich guard is safe | run") ==
        "syntax | swich | no declaration is called 'swich' | did you mean 'switch'?");
  CHECK(only("BUTTON a") == "syntax | BUTTON | no declaration is called 'BUTTON' | did you mean 'button'?");
  CHECK(only("stages s is a | b\n a -> b when x\nbuton c") ==
        "syntax | buton | no declaration is called 'buton' | did you mean 'button'?");
  CHECK(only("wombat") ==
        "syntax | wombat | no declaration is called 'wombat' | "
        "a declaration begins with a word such as 'signal', 'pulse' or 'claim'");
  CHECK(only("button a\nwithin 8 s") ==
        "syntax | within | 'within' belongs inside a declaration and begins none | "
        "a declaration begins with a word such as 'signal', 'pulse' or 'claim'");
  CHECK(only("+") ==
        "syntax | + | no declaration begins with '+' | "
        "a declaration begins with a word such as 'signal', 'pulse' or 'claim'");
}

TEST_CASE("mistakes: one equals sign and two") {
  CHECK(only("signal a = b = c") == "syntax | = | '=' is not a comparison | write '=='");
  CHECK(only("signal a == b") ==
        "syntax | == | '==' compares two values; a name gets its value by '=' | write '='");
  CHECK(to_text(read_text("signal a == b = c").tree) ==
        "signal a\n  value\n    equal\n      name b\n      name c\n");
}

TEST_CASE("mistakes: operators of other notations") {
  CHECK(only("signal a = b && c") == "syntax | && | '&&' is not an operator | write 'and'");
  CHECK(only("signal a = b & c") == "syntax | & | '&' is not an operator | write 'and'");
  CHECK(only("signal a = b || c") == "syntax | || | '||' is not an operator | write 'or'");
  CHECK(only("signal a = b ^ c") == "syntax | ^ | '^' is not an operator | write 'xor'");
  CHECK(only("signal a = !b") == "syntax | ! | '!' is not an operator | write 'not'");
  CHECK(only("signal a = b => c") == "syntax | => | '=>' is not an operator | write 'implies'");
  CHECK(only("signal a = b <> c") == "syntax | <> | '<>' is not a comparison | write '!='");
  CHECK(only("signal a = b =< c") == "syntax | =< | '=<' is not a comparison | write '<='");
  CHECK(only("signal a = b / c") ==
        "syntax | / | expected an operator or the next declaration after 'b', not '/' | "
        "there is no division; multiply by a decimal fraction, as in '0.5 * x'");
  CHECK(to_text(read_text("signal a = b && !c").tree) ==
        "signal a\n  value\n    and\n      name b\n      not\n        name c\n");
}

TEST_CASE("mistakes: one comparison after another") {
  CHECK(only("signal a = 1 < x < 3") ==
        "syntax | < | one comparison cannot follow another | write '1 < x and x < …'");
  CHECK(only("signal a = x == y is z") ==
        "syntax | is | one comparison cannot follow another | write two comparisons with 'and' between them");
  CHECK(only("signal a = x is y == z") ==
        "syntax | == | one comparison cannot follow another | write two comparisons with 'and' between them");
}

TEST_CASE("mistakes: a unit without a number") {
  CHECK(only("pulse w on a for ms") ==
        "syntax | ms | expected a number before the unit 'ms' | write the number as well, as in '8 ms'");
  CHECK(only("channel a from % to 100 %") ==
        "syntax | % | expected a level such as '100 %' after 'from', not '%' | "
        "a unit stands behind a number, as in '8 %'");
  CHECK(only("pulse w on a for min") ==
        "syntax |  | expected '(' after 'min', but the text ends here | "
        "a unit stands behind a number, as in '8 min'");
  CHECK(read_text("pulse w on a for ms").tree.broken.at(0).text == "ms");
}

TEST_CASE("mistakes: a name that is spelled like a unit is no mistake") {
  CHECK(read_text("tunable s = 8 s from 1 s to 9 s pulse w on a for s").messages().empty());
  CHECK(read_text("part p(duration ms) pulse w on a for ms end").messages().empty());
}

TEST_CASE("mistakes: a word of the language as a name") {
  CHECK(only("button end") ==
        "reserved_word | end | 'end' is a word of the language and cannot be a name | "
        "choose another name, such as 'my_end'");
  CHECK(only("part p(condition reset) end") ==
        "reserved_word | reset | 'reset' is a word of the language and cannot be a name | "
        "choose another name, such as 'my_reset'");
  CHECK(only("signal a = on") ==
        "syntax | on | expected a condition or a value after '=', not 'on' | "
        "'on' is a word of the language and cannot be a name");
  CHECK(only("button\nbutton b") == "syntax |  | expected a name after 'button' | ");
}

TEST_CASE("mistakes: every reserved word is refused as a name") {
  // The list of the reference, dsl/README.md.
  for (const std::string word :
       {"design",   "tick",    "channel",  "switch",  "button",     "link",      "signal",  "pulse",
        "delay",    "linger",  "latch",    "counter", "keep",       "stages",    "output",  "tunable",
        "power_up", "at",      "claim",    "assume",  "part",       "use",       "include", "rises",
        "falls",    "changes", "previous", "held",    "recently",   "since",     "below",   "above",
        "min",      "max",     "abs",      "hand",    "and",        "or",        "xor",     "not",
        "implies",  "is",      "if",       "then",    "else",       "when",      "after",   "while",
        "within",   "only",    "lasts",    "for",     "restarting", "cancelled", "by",      "set",
        "reset",    "wins",    "starting", "up",      "down",       "from",      "to",      "step",
        "moving",   "on",      "true",     "false",   "any",        "always",    "never",   "whenever",
        "possible", "until",   "end"}) {
    const ReadText read = read_text("button " + word);
    CAPTURE(word);
    REQUIRE(read.diagnostics.size() == 1);
    CHECK(read.diagnostics[0].code == Code::reserved_word);
  }
}

TEST_CASE("mistakes: a bracket that is not closed is shown where it is opened") {
  const ReadText read = read_text("signal a = b and (c or (d)\nbutton e");
  REQUIRE(read.diagnostics.size() == 1);
  CHECK(read.diagnostics[0].message == "expected an operator or ')' after ')'");
  REQUIRE(read.diagnostics[0].notes.size() == 1);
  CHECK(read.diagnostics[0].notes[0].place == Place{0, 17, 18});
  CHECK(to_text(read.tree) == "button e\n");
  CHECK(only("signal a = ()") == "syntax | ) | expected a condition or a value after '(', not ')' | ");
  CHECK(only("signal a = b)") ==
        "syntax | ) | expected an operator or the next declaration after 'b', not ')' | ");
}

TEST_CASE("mistakes: quotes that are not closed on their line") {
  CHECK(only("button a \"the red one\nbutton b") ==
        "syntax | \"the red one | this text in quotes is not closed on its line | end it with a second '\"'");
  CHECK(only("signal a = \"red\r\nbutton b") ==
        "syntax | \"red | this text in quotes is not closed on its line | end it with a second '\"'");
}

TEST_CASE("mistakes: parts and their ends") {
  const ReadText open = read_text("button a\npart p(level x)\n  signal b = x\n");
  REQUIRE(open.diagnostics.size() == 1);
  CHECK(open.diagnostics[0].message == "part 'p' has no 'end'");
  REQUIRE(open.diagnostics[0].notes.size() == 1);
  CHECK(open.sources.text(open.diagnostics[0].notes[0].place) == "part p(level x)");
  CHECK(only("button a\nend") ==
        "syntax | end | no part is open that this 'end' could end | "
        "take it out, or begin the part with 'part NAME(…)'");
  CHECK(only("part p()\n include \"x\"\nend") ==
        "syntax | include \"x\" | an include stands at the top of a file, not inside a part | "
        "move it in front of the part");
}

TEST_CASE("mistakes: a mistake in the head of a part does not make its body and its end mistakes") {
  const ReadText read = read_text("part p(x)\n signal a = x\nend\nbutton b");
  CHECK(read.marked() == Texts{"x"});
  CHECK(to_text(read.tree) == "button b\n");
}

TEST_CASE("mistakes: a mistake in a part leaves the rest of the part") {
  const ReadText read = read_text("part p()\n signal a =\n signal b = c\nend\nbutton d");
  CHECK(read.diagnostics.size() == 1);
  CHECK(to_text(read.tree) == "part p\n  signal b\n    value\n      name c\nbutton d\n");
}

TEST_CASE("mistakes: claims") {
  CHECK(only("claim c always p") ==
        "syntax | always | expected ':' and what is claimed after 'c', not 'always' | "
        "a colon stands before what is claimed, as in 'claim safe: always not live'");
  CHECK(only("claim c: p") ==
        "syntax |  | expected 'only' or 'lasts' (a plain condition is claimed with 'always') "
        "after 'p', but the text ends here | ");
  CHECK(only("claim c: whenever a not b") ==
        "syntax | not | expected ':' and what must then hold after 'a', not 'not' | ");
  CHECK(only("claim c: p only on q") ==
        "syntax | on | expected 'within', 'after' or 'while' after 'only', not 'on' | ");
  CHECK(only("claim c: p lasts 8 s") ==
        "syntax | 8 | expected 'at least' or 'at most' and a duration after 'lasts', not '8' | ");
}

TEST_CASE("mistakes: calls that do not exist, and calls with the wrong words") {
  CHECK(only("signal a = rise(b)") ==
        "syntax | rise | nothing that can be called has the name 'rise' | did you mean 'rises'?");
  CHECK(only("signal a = wombat(b)") ==
        "syntax | wombat | nothing that can be called has the name 'wombat' | "
        "a part is brought in with 'use', as in 'use g = guard(thrust)'");
  CHECK(only("signal a = rises b") == "syntax | b | expected '(' after 'rises', not 'b' | ");
  CHECK(only("signal a = previous(b, 0)") ==
        "syntax | 0 | expected 'starting' and the value before the first tick, as in 'previous(x, starting 0 "
        "%)' "
        "after ',', not '0' | ");
  CHECK(only("signal a = below(x, 1, 2)") ==
        "syntax | 2 | expected 'until' and the level that switches back after ',', not '2' | ");
}

TEST_CASE("mistakes: stages") {
  CHECK(only("stages s is a | b\n a -> b\nbutton c") ==
        "syntax |  | expected 'when' and a condition, or 'after' and a duration after 'b' | ");
  CHECK(only("stages s is a | b\n a - b when c") ==
        "syntax | - | expected '->' and the next stage after 'a', not '-' | ");
}

TEST_CASE("mistakes: all mistakes are reported in one run, and what is between them is read") {
  const ReadText read = read_text(
      "swich a is b | c\nbutton d\npulse e on d for\nsignal f = (d\nsignal g = d\nclaim h never d\n"
      "output i = d when d\nbutton j\n");
  CHECK(read.marked() == Texts{"swich", "", "", "never", ""});
  CHECK(to_text(read.tree) == "button d\nsignal g\n  value\n    name d\nbutton j\n");
}

TEST_CASE("mistakes: the names of declarations that could not be read are kept") {
  const ReadText read =
      read_text("buton a\ntick\nsignal b =\nbutton end\npart c(x)\nend\nclaim d\npart e()\n button f");
  std::vector<std::string> names;
  for (const Name& name : read.tree.broken) names.push_back(name.text);
  CHECK(names == Texts{"a", "tick", "b", "c", "d", "e", "f"});
  CHECK(read.sources.text(read.tree.broken[0].place) == "a");
}
