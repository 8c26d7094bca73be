// Loops that `previous` closes: their elements are typed in an order in which each finds what it needs.
#include "dsl/front.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"

using namespace detent;

TEST_CASE("A level may look at an element declared below that needs it in the same tick") {
  const std::string text =
      "tick 1 ms\n"
      "button go\n"
      "signal before = previous(n, starting 3)\n"
      "signal n = if go then min(before + 1, 9) else before\n"
      "claim c: never n == 9\n";
  CHECK(test::answer(text, {{"go", "0110100"}}, "n") == "3455666");
  CHECK(test::answer(text, {{"go", "0110100"}}, "before") == "3345566");
}

TEST_CASE("Conditions and levels in one loop") {
  const std::string text =
      "tick 1 ms\n"
      "button go\n"
      "signal a = c and previous(d)\n"
      "signal c = d or previous(a)\n"
      "signal d = go or previous(e, starting 2) > 3\n"
      "signal e = if previous(a) then 4 else if previous(c) then min(5, previous(e, starting 2) + 1) else 2\n"
      "claim x: never a\n";
  // Worked out by hand, tick by tick.
  CHECK(test::answer(text, {{"go", "01100000"}}, "e") == "22344544");
  CHECK(test::answer(text, {{"go", "01100000"}}, "a") == "00110111");
}

TEST_CASE("More than a name may stand in `previous`, where no loop leads through the brackets alone") {
  const std::string text =
      "tick 1 ms\n"
      "button go\n"
      "signal a = go or previous(c)\n"
      "signal b = not a\n"
      "signal c = previous(a and not b)\n"
      "claim x: never a\n";
  CHECK(test::answer(text, {{"go", "0100000"}}, "a") == "0101010");
}

TEST_CASE("What can't be told is said, never passed over") {
  const dsl::Compiled result =
      dsl::compile_text("x.detent", "tick 1 ms\nbutton b\nsignal a = previous(a and b)\nclaim c: never a\n");
  CHECK_FALSE(result.model);
  REQUIRE_FALSE(result.diagnostics.empty());
  CHECK(result.diagnostics.front().code == dsl::Code::wrong_type);
}
