// The reference page is true: its designs compile, its rows of ticks are what the interpreter does, its
// verdicts are what bounded checking says, its mistakes give the message that they show.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "case_file.hpp"
#include "dsl/front.hpp"
#include "dsl/grammar.hpp"
#include "dsl/grammar/words.hpp"
#include "dsl/limits.hpp"
#include "dsl/units.hpp"
#include "page_blocks.hpp"
#include "solver/bounded.hpp"
#include "tests/support/catch.hpp"
#include "tick_rows.hpp"

using namespace detent;

namespace {

constexpr dsl::Value ticks_looked_at = 50;

std::string page_text() {
  return test::text_of_file(DETENT_SOURCE_DIR "/dsl/README.md");
}

dsl::Compiled compile_block(const test::DesignBlock& block, const test::Page& page) {
  return dsl::compile("page.detent", [&](const std::string& path) {
    if (path == "page.detent") return dsl::FileText{block.text};
    const auto file = page.files.find(path);
    return file == page.files.end() ? dsl::FileText{std::nullopt, "there is no such file"}
                                    : dsl::FileText{file->second};
  });
}

std::string messages_of(const dsl::Compiled& compiled) {
  std::string messages;
  for (const dsl::Diagnostic& one : compiled.diagnostics) messages += dsl::to_text(one, compiled.sources);
  return messages;
}

std::string in_kebab_case(std::string_view name) {
  std::string code(name);
  std::replace(code.begin(), code.end(), '_', '-');
  return code;
}

std::set<std::string> codes_of(const dsl::Compiled& compiled) {
  std::set<std::string> codes;
  for (const dsl::Diagnostic& one : compiled.diagnostics)
    codes.insert(in_kebab_case(dsl::code_name(one.code)));
  return codes;
}

/// As the page says it: "holds up to 50 ticks", "refuted at tick 4".
std::string said(const solver::Verdict& verdict) {
  const std::string vacuous = verdict.vacuous ? ", vacuous" : "";
  const auto last_tick = [&] { return verdict.run ? std::to_string(verdict.run->ticks() - 1) : "?"; };
  switch (verdict.outcome) {
    case solver::Outcome::proved:
      return "proved";  // bounded checking never says so
    case solver::Outcome::holds_up_to:
      return fmt::format("holds up to {} ticks{}", verdict.ticks, vacuous);
    case solver::Outcome::refuted:
      return verdict.run ? "refuted at tick " + last_tick() : "refuted: no run does it";
    case solver::Outcome::shown:
      return "shown at tick " + last_tick();
    case solver::Outcome::undecided:
      return fmt::format("undecided after {} ticks", verdict.ticks);
  }
  return "";
}

std::vector<std::string> verdicts_of(const dsl::Model& model) {
  const solver::Report report = solver::check_bounded(model, {.within = ticks_looked_at});
  std::vector<std::string> lines;
  for (const solver::Verdict& verdict : report.verdicts) {
    lines.push_back(model.claims[verdict.claim].name + ": " + said(verdict));
  }
  return lines;
}

/// A word that stands alone in the section of this heading, in the way that the page marks words.
bool lists(const std::string& page, const std::string& heading, std::string_view word) {
  const std::size_t begin = page.find("\n## " + heading + "\n");
  if (begin == std::string::npos) return false;
  const std::string section = page.substr(begin, page.find("\n## ", begin + 1) - begin);
  return section.find(fmt::format("`{}`", word)) != std::string::npos;
}

}  // namespace

TEST_CASE("the page's good designs have no mistake and no warning", "[reference]") {
  const test::Page page = test::blocks_of(page_text());
  REQUIRE(page.designs.size() >= 25);
  for (const test::DesignBlock& block : page.designs) {
    if (!block.mistake.empty()) continue;
    INFO("dsl/README.md:" << block.line);
    CHECK(messages_of(compile_block(block, page)) == "");
  }
}

TEST_CASE("the page's mistakes give the message that they show", "[reference]") {
  const test::Page page = test::blocks_of(page_text());
  for (const test::DesignBlock& block : page.designs) {
    if (block.mistake.empty()) continue;
    INFO("dsl/README.md:" << block.line);
    const dsl::Compiled compiled = compile_block(block, page);
    INFO(messages_of(compiled));
    CHECK(codes_of(compiled) == std::set<std::string>{block.mistake});
  }
}

TEST_CASE("the page's rows of ticks are what the interpreter does", "[reference]") {
  const test::Page page = test::blocks_of(page_text());
  std::size_t rows = 0;
  for (const test::DesignBlock& block : page.designs) {
    for (const std::string& ticks : block.ticks) {
      INFO("dsl/README.md:" << block.line);
      const dsl::Compiled compiled = compile_block(block, page);
      REQUIRE(compiled.model.has_value());
      CHECK(test::departures(*compiled.model, ticks) == std::vector<std::string>{});
      ++rows;
    }
  }
  CHECK(rows >= 12);
}

TEST_CASE("the page's verdicts are what bounded checking says", "[reference]") {
  const test::Page page = test::blocks_of(page_text());
  std::size_t blocks = 0;
  for (const test::DesignBlock& block : page.designs) {
    for (const std::string& verdicts : block.verdicts) {
      INFO("dsl/README.md:" << block.line);
      const dsl::Compiled compiled = compile_block(block, page);
      REQUIRE(compiled.model.has_value());
      CHECK(verdicts_of(*compiled.model) == test::lines_of(verdicts));
      ++blocks;
    }
  }
  CHECK(blocks >= 20);
}

TEST_CASE("lines of stages that overlap are found as the page says", "[reference]") {
  const std::string head = "tick 20 ms\nbutton go\nbutton stop\nstages mode is idle | busy | off\n";
  const std::string any = "any -> off when stop\n";
  const std::string lines = "idle -> busy when go\nbusy -> idle when not go\noff -> idle when not stop\n";
  const std::string claim = "claim a: never mode is off and not stop\n";
  const auto overlaps = [&](const std::string& moves) {
    const dsl::Compiled compiled = dsl::compile_text("overlap.detent", head + moves + claim);
    REQUIRE(compiled.model.has_value());
    const solver::Report report = solver::check_bounded(*compiled.model, {.within = ticks_looked_at});
    return std::count_if(report.overlaps.begin(), report.overlaps.end(),
                         [](const solver::OverlapFinding& one) { return one.run.has_value(); });
  };
  CHECK(overlaps(any + lines) == 0);
  CHECK(overlaps(lines + any) == 2);
}

TEST_CASE("a row that is not followed is seen", "[reference]") {
  const dsl::Compiled compiled =
      dsl::compile_text("t.detent", "tick 20 ms\nbutton go\nsignal no = not go\nclaim a: never no\n");
  REQUIRE(compiled.model.has_value());
  CHECK(test::departures(*compiled.model, "go 0110\nno 1001\n").empty());
  CHECK_FALSE(test::departures(*compiled.model, "go 0110\nno 1000\n").empty());
  CHECK_THROWS(test::departures(*compiled.model, "no 1001\n"));
  CHECK_THROWS(test::departures(*compiled.model, "go 01\nno 1001\n"));
}

TEST_CASE("the page lists every unit, reserved word and limit", "[reference]") {
  const std::string page = page_text();
  for (const std::string& unit : dsl::all_units()) {
    INFO(unit);
    CHECK(lists(page, "Numbers and units", unit));
  }
  const auto check_words = [&](const auto& words) {
    for (const std::string_view word : words) {
      INFO(word);
      CHECK(lists(page, "Reserved words", word));
    }
  };
  check_words(dsl::grammar::declaration_words);
  check_words(dsl::grammar::call_words);
  check_words(dsl::grammar::inner_words);
  for (const std::string& limit :
       {std::to_string(dsl::deepest_nesting), std::to_string(dsl::longest_name), std::string("4 MiB"),
        std::to_string(dsl::deepest_parts), fmt::format("{}", dsl::largest_level),
        fmt::format("{}", dsl::longest_duration), fmt::format("{}", dsl::most_elements)}) {
    INFO(limit);
    CHECK(lists(page, "Limits", limit));
  }
}
