// Hostile texts: both sides of every limit, characters that do not belong, sizes.
#include <ctime>

#include "tests/dsl/reading_support.hpp"
#include "tests/support/catch.hpp"

using namespace detent::dsl;

namespace {

std::vector<Code> codes(const ReadText& read) {
  std::vector<Code> all;
  for (const Diagnostic& each : read.diagnostics) all.push_back(each.code);
  return all;
}

using Codes = std::vector<Code>;

/// A text that may be nested as deep as permitted, and not one level deeper.
void check_limit(const std::string& head, const std::string& level, const std::string& core,
                 const std::string& tail) {
  constexpr std::size_t deepest = deepest_nesting;
  const auto nested = [&](std::size_t depth) {
    return read_text(head + times(depth, level) + core + times(depth, tail));
  };
  CAPTURE(level);
  CHECK(nested(deepest).messages().empty());
  CHECK(codes(nested(deepest + 1)) == Codes{Code::nested_too_deeply});
}

}  // namespace

TEST_CASE("limits: nesting of every kind has a limit") {
  check_limit("signal a = ", "(", "b", ")");
  check_limit("signal a = ", "not ", "b", "");
  check_limit("signal a = ", "- ", "b", "");
  check_limit("signal a = ", "b implies ", "b", "");
  check_limit("signal a = ", "if b then c else ", "d", "");
  check_limit("signal a = ", "if ", "b", " then c else d");
  check_limit("signal a = ", "rises(", "b", ")");
  check_limit("signal a = ", "below(b, 1, until ", "2", ")");
  check_limit("", "part p() ", "button b", " end");
}

TEST_CASE("limits: kinds of nesting count together") {
  const auto half = static_cast<std::size_t>(deepest_nesting) / 2;
  const std::string head = "signal a = " + times(half, "not (");
  CHECK(read_text(head + "b" + times(half, ")")).messages().empty());
  CHECK(codes(read_text(head + "(b)" + times(half, ")"))) == Codes{Code::nested_too_deeply});
}

TEST_CASE("limits: what stands side by side is not nested") {
  CHECK(read_text("signal a = " + times(1000, "(b) and not c and ") + "d").messages().empty());
  CHECK(read_text("signal a = " + times(1000, "-(1) + ") + "1").messages().empty());
}

TEST_CASE("limits: too deep nesting is one message a declaration, and reading goes on") {
  const ReadText read = read_text("signal a = " + times(5000, "(") + "\nbutton b");
  CHECK(codes(read) == Codes{Code::nested_too_deeply});
  CHECK(to_text(read.tree) == "button b\n");
}

TEST_CASE("limits: numbers have at most 12 digits before the point and 6 after it") {
  CHECK(read_text("signal a = 123456789012").messages().empty());
  CHECK(codes(read_text("signal a = 1234567890123")) == Codes{Code::bad_number});
  CHECK(read_text("signal a = 0.123456").messages().empty());
  CHECK(codes(read_text("signal a = 0.1234567")) == Codes{Code::bad_number});
  CHECK(codes(read_text("signal a = " + std::string(400, '9') + " s")) == Codes{Code::bad_number});
}

TEST_CASE("limits: names have at most 80 characters") {
  const std::string longest(longest_name, 'x');
  CHECK(read_text("button " + longest).messages().empty());
  CHECK(codes(read_text("button " + longest + "x")) == Codes{Code::syntax});
  CHECK(read_text("signal a = " + longest + "." + longest).messages().empty());
  CHECK(codes(read_text("signal a = b." + longest + "x")) == Codes{Code::syntax});
}

TEST_CASE("limits: a file has a largest size") {
  CHECK(read_text(std::string(largest_file_bytes, ' ')).messages().empty());
  CHECK(codes(read_text(std::string(largest_file_bytes + 1, ' '))) == Codes{Code::file_too_large});
}

TEST_CASE("limits: 49 mistakes are shown; the 50th message says that there are more") {
  CHECK(read_text(times(49, "button end\n")).diagnostics.size() == 49);
  const ReadText read = read_text(times(5000, "button end\n") + "button late");
  REQUIRE(read.diagnostics.size() == 50);
  CHECK(read.diagnostics.back().message == "there are more mistakes; reading stops at this one");
  CHECK(read_text("signal a = b" + times(5000, " && b")).diagnostics.size() == 50);
}

TEST_CASE("limits: when reading stops early, the names of the rest are kept") {
  const ReadText read = read_text(times(60, "button end\n") + "button late\ntick 20 ms");
  std::vector<std::string> names;
  for (const Name& name : read.tree.broken) names.push_back(name.text);
  CHECK(std::find(names.begin(), names.end(), "late") != names.end());
  CHECK(std::find(names.begin(), names.end(), "tick") != names.end());
}

TEST_CASE("limits: characters that do not belong are named") {
  const auto message = [](const std::string& text) {
    const ReadText read = read_text(text);
    if (codes(read) != Codes{Code::bad_character}) return "not one bad character:\n" + read.messages();
    return read.diagnostics[0].message + " | " + read.diagnostics[0].mend;
  };
  CHECK(message(std::string("button a\0", 9)) == "the text holds a NUL character | take it out");
  CHECK(message("button a \x1B") == "the text holds the control character U+001B | take it out");
  CHECK(message("button a \x7F") == "the text holds the control character U+007F | take it out");
  CHECK(message("button a\rbutton b") ==
        "a carriage return stands alone, without a line feed behind it | take it out");
  CHECK(message("button a \"\x01\"") == "the text holds the control character U+0001 | take it out");
  CHECK(message("button a // \x01") == "the text holds the control character U+0001 | take it out");
  CHECK(message("button a\xC2\xA0") ==
        "the character U+00A0 may stand only in comments and in texts in quotes | write an ordinary space");
  CHECK(message("signal a = b \xE2\x89\xA4 5") ==
        "the character U+2264 may stand only in comments and in texts in quotes | write '<='");
  CHECK(message("button a // \xE2\x80\xAE") == "the text holds the invisible character U+202E | take it out");
  CHECK(message("button a // \xEF\xBB\xBF") == "the text holds the invisible character U+FEFF | take it out");
}

// The cases of RFC 3629, section 3 and 10: overlong forms, surrogates, above U+10FFFF, stray and missing
// bytes.
TEST_CASE("limits: what is not UTF-8 is named, even in comments") {
  for (const std::string bytes :
       {"\xC0\x80", "\xE0\x80\x80", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\x80", "\xC3", "\xE2\x82", "\xFF"}) {
    const ReadText read = read_text("button a // " + bytes);
    REQUIRE_FALSE(read.diagnostics.empty());
    CHECK(read.diagnostics[0].code == Code::bad_character);
    CHECK(read.diagnostics[0].message.find("is not part of any UTF-8 character") != std::string::npos);
  }
  CHECK(read_text("// \xC3\xA4 \xED\x9F\xBF \xEE\x80\x80 \xF0\x90\x80\x80 \xF4\x8F\xBF\xBF")
            .messages()
            .empty());
}

TEST_CASE("limits: after five strange characters reading stops") {
  const std::string strange = "\x01";
  CHECK(to_text(read_text("button a" + times(5, strange) + "\nbutton b").tree) == "button a\nbutton b\n");
  const ReadText read = read_text("button a" + times(1000, strange) + "\nbutton b");
  CHECK(codes(read) == Codes(6, Code::bad_character));
  CHECK(read.tree.declarations.empty());
  CHECK(read.tree.broken.size() == 1);
}

// Thirty seconds of processor time are far above what any of these takes, even with sanitizers and without
// optimisation, and far below what anything worse than linear would take.
TEST_CASE("limits: hostile texts of the largest size are read in a moment") {
  const auto fill = [](const std::string& head, const std::string& piece) {
    return head + times((largest_file_bytes - head.size()) / piece.size(), piece);
  };
  for (const std::string& text :
       {fill("signal a = ", "("), fill("", "("), fill("", "\""), fill("", ")"), fill("signal a = ", "not "),
        fill("signal a = ", "if a then "), fill("", "part a() "), fill("signal a = ", "a=a and "),
        fill("", "wombat "), fill("signal a = ", "a."), fill("signal a = ", "9"), fill("", "signal a = (\n"),
        fill("", "\n"), fill("", "\xFF"), fill("", "// \"\n"), fill("", "end "), fill("button a \"", "x"),
        fill("", "at most\n"), fill("", "tick 1 ")}) {
    const std::clock_t begin = std::clock();
    const ReadText read = read_text(text);
    const std::string messages = read.messages();
    const std::clock_t taken = std::clock() - begin;
    CAPTURE(text.substr(0, 40));
    CHECK(taken / CLOCKS_PER_SEC < 30);
    CHECK(read.diagnostics.size() <= 50);
    CHECK(messages.size() < 50000);
  }
}
