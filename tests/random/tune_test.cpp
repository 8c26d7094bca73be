// The values at which all claims of a random design hold, against the same text with each value written in it
// and checked by itself. Random designs have tunables of times and levels
// (tests/support/design_generator.hpp).
#include <regex>
#include <sstream>

#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"
#include "tests/support/design_generator.hpp"
#include "tests/support/seeds.hpp"
#include "tests/support/tuned.hpp"

using namespace detent;
using namespace detent::test;

namespace {

struct Tally {
  std::size_t tunables = 0, values = 0, holds = 0, fails = 0, undecided = 0, mixed = 0;
};

/// The text with this value written in the place of the tunable's.
std::string with_value(const std::string& text, const cli::TuneStudy& study, std::size_t point) {
  const dsl::Tunable& tunable = study.axes[0].tunable;
  const std::string value = tunable.is_time ? std::to_string(study.value(0, point)) + " ticks"
                                            : std::to_string(study.value(0, point)) + " " + tunable.sort.unit;
  const std::regex line("(tunable " + tunable.name + "[^=\n]*= )[0-9]+ (ms|%)");
  return std::regex_replace(text, line, "$01" + value);
}

void compare(const std::string& text, const std::string& name, Tally& tally) {
  const Tuned found = tuned(text, {name});
  ++tally.tunables;
  const std::string letters = letters_of(found.study);
  std::string expected;
  for (std::size_t point = 0; point < found.study.grid.points(); ++point) {
    expected += letter_of(standing_of_text(with_value(text, found.study, point)));
  }
  INFO(text << "\ntunable " << name);
  CHECK(letters == expected);
  tally.values += letters.size();
  for (const char letter : letters) {
    tally.holds += letter == '+' ? 1 : 0;
    tally.fails += letter == '-' ? 1 : 0;
    tally.undecided += letter == '?' ? 1 : 0;
  }
  tally.mixed += letters.find_first_not_of(letters.front()) == std::string::npos ? 0 : 1;
}

/// The text with one of its claims only: most random designs break some claim at every value.
std::string with_one_claim(const std::string& text, std::uint64_t choice) {
  std::vector<std::string> lines;
  std::vector<std::size_t> claims;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) {
    if (line.starts_with("claim ")) claims.push_back(lines.size());
    lines.push_back(line);
  }
  std::string kept;
  for (std::size_t index = 0; index < lines.size(); ++index) {
    const bool other = lines[index].starts_with("claim ") && index != claims[choice % claims.size()];
    if (!other) kept += lines[index] + '\n';
  }
  return kept;
}

}  // namespace

TEST_CASE("Tuning finds what checking every single value finds") {
  Tally tally;
  const auto [first, count] = seeds(120);
  for (std::uint64_t seed = first; seed < first + count; ++seed) {
    const std::string text = random_design(seed);
    const dsl::Compiled compiled = dsl::compile_text("random.detent", text);
    REQUIRE(compiled.model);
    for (const dsl::Tunable& one : dsl::tunables(compiled.tree, compiled.model->tick_us)) {
      INFO("seed " << seed);
      compare(text, one.name, tally);
      compare(with_one_claim(text, seed), one.name, tally);
    }
  }
  WARN(tally.tunables << " tunables, " << tally.values << " values: " << tally.holds << " hold, "
                      << tally.fails << " fail, " << tally.undecided << " undecided; " << tally.mixed
                      << " tunables with values of both sorts");
  if (count >= 120) {
    CHECK(tally.tunables >= 100);
    CHECK(tally.mixed >= 10);
  }
}
