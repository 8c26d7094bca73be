// Both sides of every limit of dsl/limits.hpp and dsl/grammar.hpp: what just goes, and one more, which gives
// a message and nothing worse. Nesting and long names in all their forms are in grammar_limits_test.cpp.
#include <fmt/format.h>

#include <string>

#include "dsl/front.hpp"
#include "dsl/grammar.hpp"
#include "dsl/limits.hpp"
#include "tests/support/catch.hpp"

using namespace detent;

namespace {

/// The codes that a text gives, warnings left out, each once and joined by spaces: "" if it compiles.
std::string errors_of(const std::string& text) {
  const dsl::Compiled compiled = dsl::compile_text("limits.detent", text);
  std::string codes;
  for (const dsl::Diagnostic& one : compiled.diagnostics) {
    const std::string code(dsl::code_name(one.code));
    if (one.severity() == dsl::Severity::error && codes.find(code) == std::string::npos) {
      codes += (codes.empty() ? "" : " ") + code;
    }
  }
  CHECK(compiled.model.has_value() == codes.empty());
  return codes;
}

std::string with_button(const std::string& rest) {
  return "tick 20 ms\nbutton go\n" + rest + "\n";
}

std::string repeated(const std::string& text, std::size_t times) {
  std::string all;
  for (; times > 0; --times) all += text;
  return all;
}

/// Part number 1 uses part number 2, and so on; the last uses none.
std::string parts_in_parts(std::size_t depth) {
  std::string text;
  for (std::size_t level = depth; level >= 1; --level) {
    const std::string inner = level == depth ? "" : fmt::format(" use i = p{}(x)", level + 1);
    const std::string value = level == depth ? "x" : "i.ok";
    text += fmt::format("part p{}(condition x){} signal ok = {} end\n", level, inner, value);
  }
  return with_button(text + "use g = p1(go)\nclaim quiet: never g.ok");
}

/// Part number n has two uses of part number n-1, so that g brings about 3 * 2^depth elements.
std::string doubling_parts(int depth) {
  std::string text = "part p0(condition x) signal ok = x end\n";
  for (int level = 1; level <= depth; ++level) {
    text += fmt::format("part p{}(condition x) use a = p{}(x) use b = p{}(x) signal ok = a.ok or b.ok end\n",
                        level, level - 1, level - 1);
  }
  return with_button(text + fmt::format("use g = p{}(go)\nclaim quiet: never g.ok", depth));
}

}  // namespace

TEST_CASE("limits: nesting", "[limits]") {
  const auto brackets = [](std::size_t count) {
    return with_button("claim quiet: never " + repeated("(", count) + "go" + repeated(")", count));
  };
  const auto deepest = static_cast<std::size_t>(dsl::deepest_nesting);
  CHECK(errors_of(brackets(deepest)).empty());
  CHECK(errors_of(brackets(deepest + 1)) == "nested_too_deeply");
  CHECK(errors_of(brackets(100'000)) == "nested_too_deeply");
}

TEST_CASE("limits: names", "[limits]") {
  const auto named = [](std::size_t length) {
    const std::string name(length, 'n');
    return with_button(fmt::format("signal {} = go\nclaim quiet: never {}", name, name));
  };
  CHECK(errors_of(named(dsl::longest_name)).empty());
  CHECK(errors_of(named(dsl::longest_name + 1)) == "syntax");
}

TEST_CASE("limits: durations", "[limits]") {
  const auto lasting = [](std::int64_t ticks) {
    return with_button(fmt::format("pulse window on go for {} ticks\nclaim quiet: never window", ticks));
  };
  CHECK(errors_of(lasting(1)).empty());
  CHECK(errors_of(lasting(0)) == "bad_duration");
  CHECK(errors_of(lasting(dsl::longest_duration)).empty());
  CHECK(errors_of(lasting(dsl::longest_duration + 1)) == "bad_duration");
  CHECK(errors_of(lasting(1'000'000'000'000 - 1)) == "bad_duration");
  CHECK(errors_of(lasting(1'000'000'000'000)) == "bad_number");
}

TEST_CASE("limits: the length of a tick", "[limits]") {
  const auto ticking = [](const std::string& length) {
    return fmt::format("tick {}\nbutton go\nclaim quiet: never go\n", length);
  };
  CHECK(errors_of(ticking("1 us")).empty());
  CHECK(errors_of(ticking("0.999999 us")) == "bad_duration");
  CHECK(errors_of(ticking("1 h")).empty());
  CHECK(errors_of(ticking("3600000.001 ms")) == "bad_duration");
  CHECK(errors_of(ticking("0 ms")) == "bad_duration");
}

TEST_CASE("limits: numbers", "[limits]") {
  const auto channel = [](const std::string& highest) {
    return fmt::format("tick 20 ms\nchannel x from 0 to {}\nclaim quiet: never x == 0\n", highest);
  };
  CHECK(errors_of(channel("999999999999")).empty());
  CHECK(errors_of(channel("1000000000000")) == "bad_number");
  CHECK(errors_of(channel("100000000000.0")).empty());  // 10^12 without its point
  CHECK(errors_of(channel("100000000000.1")) == "bad_number");
  CHECK(errors_of(channel("1 step 0.000001")).empty());
  CHECK(errors_of(channel("1 step 0.0000005")) == "bad_number");
}

TEST_CASE("limits: what is computed", "[limits]") {
  const auto times = [](const std::string& factor) {
    return fmt::format("tick 20 ms\nchannel x from 0 to 10\nclaim quiet: never {} * x == 5\n", factor);
  };
  CHECK(errors_of(times("100000000000")).empty());
  CHECK(errors_of(times("100000000001")) == "unbounded_value");
  CHECK(errors_of(times("999999999999 * 999999999999 * 999999999999")) == "unbounded_value");
}

TEST_CASE("limits: parts in parts", "[limits]") {
  CHECK(errors_of(parts_in_parts(dsl::deepest_parts)).empty());
  CHECK(errors_of(parts_in_parts(dsl::deepest_parts + 1)) == "endless_parts");
}

TEST_CASE("limits: elements after parts are put in", "[limits]") {
  CHECK(errors_of(doubling_parts(12)).empty());
  CHECK(errors_of(doubling_parts(40)) == "too_large");
}
