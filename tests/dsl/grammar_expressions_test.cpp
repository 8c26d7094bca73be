// Expressions: which operator binds tighter, what a place covers, numbers and their units.
// Binding, loosest first: implies, or, xor, and, not, comparison, + -, *, unary - (dsl/README.md).
#include "tests/dsl/reading_support.hpp"
#include "tests/support/catch.hpp"

using namespace detent::dsl;

namespace {

/// The tree of an expression on one line: (or a (and b c)).
std::string shape(const Expr& expr) {
  static const char* const names[] = {"truth", "",    "",    "",   "neg", "+",       "*",
                                      "==",    "!=",  "<",   "<=", ">",   ">=",      "is",
                                      "isnt",  "not", "and", "or", "xor", "implies", "if"};
  if (expr.op == Op::truth) return expr.number.digits == 1 ? "true" : "false";
  if (expr.op == Op::name) return expr.text;
  if (expr.op == Op::quantity) return std::to_string(expr.number.digits) + expr.text;
  std::string all = std::string("(") + names[static_cast<std::size_t>(expr.op)];
  if (!expr.text.empty()) all += (expr.op == Op::call ? "" : " ") + expr.text;
  for (const Expr& operand : expr.operands) all += " " + shape(operand);
  return all + ")";
}

const Expr& value_of(const ReadText& read) {
  return std::get<SignalDeclaration>(read.tree.declarations.at(0).body).value;
}

std::string shape(const std::string& text) {
  const ReadText read = read_text("signal s = " + text);
  return read.diagnostics.empty() ? shape(value_of(read)) : read.messages();
}

}  // namespace

TEST_CASE("expressions: each operator binds tighter than the one above it") {
  CHECK(shape("a implies b or c") == "(implies a (or b c))");
  CHECK(shape("a or b implies c") == "(implies (or a b) c)");
  CHECK(shape("a or b xor c") == "(or a (xor b c))");
  CHECK(shape("a xor b or c") == "(or (xor a b) c)");
  CHECK(shape("a xor b and c") == "(xor a (and b c))");
  CHECK(shape("a and b xor c") == "(xor (and a b) c)");
  CHECK(shape("a and not b and c") == "(and a (not b) c)");
  CHECK(shape("not a and b") == "(and (not a) b)");
  CHECK(shape("not a == b") == "(not (== a b))");
  CHECK(shape("a + b < c + d") == "(< (+ a b) (+ c d))");
  CHECK(shape("a + b * c") == "(+ a (* b c))");
  CHECK(shape("a * b + c") == "(+ (* a b) c)");
  CHECK(shape("-a * b") == "(* (neg a) b)");
  CHECK(shape("a * -b") == "(* a (neg b))");
  CHECK(shape("not not a") == "(not (not a))");
  CHECK(shape("--a") == "(neg (neg a))");
}

TEST_CASE("expressions: equal operators are joined, implies goes to the right, brackets stay") {
  CHECK(shape("a and b and c") == "(and a b c)");
  CHECK(shape("(a and b) and c") == "(and (and a b) c)");
  CHECK(shape("a or b or c") == "(or a b c)");
  CHECK(shape("a xor b xor c") == "(xor a b c)");
  CHECK(shape("a implies b implies c") == "(implies a (implies b c))");
  CHECK(shape("(a implies b) implies c") == "(implies (implies a b) c)");
  CHECK(shape("a - b + c - d") == "(+ a (neg b) c (neg d))");
  CHECK(shape("a - -b") == "(+ a (neg (neg b)))");
  CHECK(shape("a * b * c") == "(* a b c)");
}

TEST_CASE("expressions: comparisons and positions") {
  CHECK(shape("a == b") == "(== a b)");
  CHECK(shape("a != b") == "(!= a b)");
  CHECK(shape("a < b") == "(< a b)");
  CHECK(shape("a <= b") == "(<= a b)");
  CHECK(shape("a > b") == "(> a b)");
  CHECK(shape("a >= -5") == "(>= a (neg 5))");
  CHECK(shape("a<-5") == "(< a (neg 5))");
  CHECK(shape("g is run and h is not lost") == "(and (is run g) (isnt lost h))");
}

TEST_CASE("expressions: choice extends as far as it can") {
  CHECK(shape("if a then b else c or d") == "(if a b (or c d))");
  CHECK(shape("if a then b else if c then d else e") == "(if a b (if c d e))");
  CHECK(shape("1 + if a then 2 else 3 + 4") == "(+ 1 (if a 2 (+ 3 4)))");
}

TEST_CASE("expressions: calls") {
  for (const std::string call : {"rises", "falls", "changes", "previous", "abs", "hand", "min", "max"}) {
    CHECK(shape(call + "(a)") == "(" + call + " a)");
  }
  CHECK(shape("previous(a + 1, starting 0)") == "(previous (+ a 1) 0)");
  CHECK(shape("held(a, 2 s)") == "(held a 2s)");
  CHECK(shape("recently(a, t + 1 s)") == "(recently a (+ t 1s))");
  CHECK(shape("since(a, b)") == "(since a b)");
  CHECK(shape("below(x, -98 %, until -95 %)") == "(below x (neg 98%) (neg 95%))");
  CHECK(shape("above (x, 5, until 4)") == "(above x 5 4)");
  CHECK(shape("min(a, b, c)") == "(min a b c)");
}

TEST_CASE("expressions: names may lead into a part in use") {
  CHECK(shape("g.ok") == "g.ok");
  CHECK(shape("g.inner.ok and true or false") == "(or (and g.inner.ok true) false)");
}

TEST_CASE("expressions: a unit stands behind its number on the same line") {
  CHECK(shape("8 s") == "8s");
  CHECK(shape("8s") == "8s");
  CHECK(shape("8\t%") == "8%");
  CHECK(shape("2 min") == "2min");
  CHECK(shape("1 tick") == "1tick");
  CHECK(shape("8 wombats") == "8wombats");
  CHECK(listing("signal a = 8\ns -> b") != listing("signal a = 8 s"));
  CHECK(listing("signal a = 8\nbutton s") == "signal a\n  value\n    8\nbutton s\n");
  CHECK(listing("signal a = 8 button s") == "signal a\n  value\n    8\nbutton s\n");
}

TEST_CASE("expressions: tick is a unit, unless it begins the declaration of the tick") {
  CHECK(listing("signal a = 1 tick tick 20 ms") ==
        "signal a\n  value\n    1 tick\ntick\n  length\n    20 ms\n");
  CHECK(listing("signal a = 1 tick 20 ms") == "signal a\n  value\n    1\ntick\n  length\n    20 ms\n");
  CHECK(listing("signal a = 1\ntick 20 ms") == "signal a\n  value\n    1\ntick\n  length\n    20 ms\n");
}

TEST_CASE("expressions: numbers are kept exactly") {
  const auto number = [](const std::string& text) {
    const ReadText read = read_text("signal s = " + text);
    REQUIRE(read.diagnostics.empty());
    return value_of(read).number;
  };
  CHECK(number("0").digits == 0);
  CHECK(number("12.50").digits == 1250);
  CHECK(number("12.50").decimals == 2);
  CHECK(number("0.000001").digits == 1);
  CHECK(number("0.000001").decimals == 6);
  CHECK(number("007").digits == 7);
  CHECK(number("999999999999.999999").digits == 999999999999999999);
  CHECK(listing("signal s = 0.050 %") == "signal s\n  value\n    0.050 %\n");
}

TEST_CASE("expressions: a place covers its expression and nothing round it") {
  const auto places = [](const std::string& text) {
    const ReadText read = read_text("signal s =  " + text + "  // end");
    REQUIRE(read.diagnostics.empty());
    std::vector<std::string> all{std::string(read.sources.text(value_of(read).place))};
    for (const Expr& each : value_of(read).operands) all.emplace_back(read.sources.text(each.place));
    return all;
  };
  using Texts = std::vector<std::string>;
  CHECK(places("a  and ( b or c )") == Texts{"a  and ( b or c )", "a", "( b or c )"});
  CHECK(places("5 %  -  3  %") == Texts{"5 %  -  3  %", "5 %", "-  3  %"});
  CHECK(places("not  a == b") == Texts{"not  a == b", "a == b"});
  CHECK(places("guard  is  not  run") == Texts{"guard  is  not  run", "guard"});
  CHECK(places("a implies b implies (c)") == Texts{"a implies b implies (c)", "a", "b implies (c)"});
  CHECK(places("min ( a , b )") == Texts{"min ( a , b )", "a", "b"});
  CHECK(places("if a then b else c // x\n") == Texts{"if a then b else c", "a", "b", "c"});
  CHECK(places("- g.ok") == Texts{"- g.ok", "g.ok"});
  CHECK(places("8 // x\n + 2 s") == Texts{"8 // x\n + 2 s", "8", "2 s"});
}
