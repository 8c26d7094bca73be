// What a person reads of one claim: story and diagram, as golden pages. The runs are made by hand, and
// verdict_by() makes sure that each really breaks (or does) its claim in its last tick.
// Source of the figures in the pages: arithmetic on the runs given here, at 20 ms a tick.
#include <sstream>

#include "cli/verdict_text.hpp"
#include "tests/cli/golden.hpp"
#include "tests/cli/sample.hpp"
#include "tests/support/catch.hpp"

namespace detent::test {
namespace {

using cli::Terminal;

struct Case {
  std::string claim;
  dsl::Value ticks = 0;
  std::vector<Hand> hands;
};

const std::vector<Case>& cases() {
  static const std::vector<Case> all{
      {"starts_at_rest", 3, {{1, "nudge", 1}, {2, "guard", 1}, {2, "thrust", 35}}},
      {"in_time", 232, {{1, "nudge", 1}, {30, "nudge", 0}, {231, "guard", 1}}},
      {"stays_low",
       30,
       {{1, "nudge", 1},
        {2, "guard", 1},
        {3, "radio", 1},
        {3, "thrust", -90},
        {4, "radio", 0},
        {4, "thrust", -80},
        {5, "thrust", -60},
        {6, "thrust", -30},
        {10, "thrust", 0},
        {29, "thrust", 1}}},
      {"never_live", 3, {{1, "nudge", 1}, {2, "guard", 1}}},
      {"not_at_run", 3, {{1, "nudge", 1}, {2, "guard", 1}}},
      {"answers", 52, {{1, "nudge", 1}, {2, "nudge", 0}}},
      {"idles", 12, {{1, "guard", 1}, {2, "guard", 0}, {11, "thrust", 35}}},
      {"first_stop", 3, {{1, "nudge", 1}, {2, "guard", 1}}},
      {"only_idle", 6, {{1, "nudge", 1}, {2, "guard", 1}, {5, "thrust", 35}}},
      {"long", 6, {{1, "nudge", 1}, {2, "guard", 1}, {5, "stop", 1}}},
      {"short", 13, {{1, "nudge", 1}, {2, "guard", 1}}},
      {"can_go", 3, {{1, "nudge", 1}, {2, "guard", 1}}},
      {"can_go_now", 3, {{1, "nudge", 1}, {2, "guard", 1}}},
  };
  return all;
}

std::string block(const Case& example, const Terminal& terminal, bool all_signals = false) {
  const dsl::Compiled design = compiled_text(boat_text());
  const dsl::Model& model = *design.model;
  const solver::Verdict verdict =
      verdict_by(model, example.claim, run_of(model, example.ticks, example.hands));
  return cli::render(cli::verdict_block(model, design.sources, verdict, {all_signals}, terminal), terminal);
}

void check_width(const std::string& page, std::size_t width) {
  std::istringstream lines(page);
  for (std::string line; std::getline(lines, line);) {
    INFO(line);
    CHECK(cli::columns(line) <= width);
  }
}

}  // namespace

TEST_CASE("every form of claim is told where it breaks") {
  for (const Case& example : cases()) {
    check_golden("block_" + example.claim, block(example, {.width = 80}));
  }
}

TEST_CASE("pages keep to the width of the terminal") {
  for (const std::size_t width : {std::size_t{40}, std::size_t{80}, std::size_t{120}}) {
    for (const Case& example : cases()) {
      check_width(block(example, {.width = width}), width);
      check_width(block(example, {.width = width, .unicode = false}), width);
      check_width(block(example, {.width = width}, true), width);
    }
  }
  check_golden("width_40", block(cases()[2], {.width = 40}));
  check_golden("width_120", block(cases()[2], {.width = 120}));
}

TEST_CASE("without a UTF-8 locale the page is plain ASCII") {
  for (const Case& example : cases()) {
    for (const char letter : block(example, {.width = 80, .unicode = false})) {
      CHECK(static_cast<unsigned char>(letter) < 0x80);
    }
  }
  check_golden("ascii", block(cases()[2], {.width = 80, .unicode = false}));
}

TEST_CASE("colour adds nothing but escape sequences") {
  const std::string plain = block(cases()[1], {.width = 80});
  std::string colored = block(cases()[1], {.width = 80, .color = true});
  CHECK(plain.find('\x1b') == std::string::npos);
  CHECK(colored.find("\x1b[1;31mREFUTED") == 0);
  for (std::size_t begin = colored.find('\x1b'); begin != std::string::npos; begin = colored.find('\x1b')) {
    colored.erase(begin, colored.find('m', begin) + 1 - begin);
  }
  CHECK(colored == plain);
}

TEST_CASE("all signals are shown if asked for, with those that have no bearing on the claim") {
  const Case& example = cases()[3];  // never_live: thrust, jet and the link have no bearing on it
  CHECK(block(example, {}).find("jet") == std::string::npos);
  CHECK(block(example, {}, true).find("jet") != std::string::npos);
  check_golden("all_signals", block(example, {.width = 80}, true));
}

}  // namespace detent::test
