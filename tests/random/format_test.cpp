// Random designs with their layout thrown about: laid out, each has the meaning and the comments that it had.
#include <algorithm>

#include "tests/fuzz/layout.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chance.hpp"
#include "tests/support/design_generator.hpp"
#include "tests/support/mangle.hpp"
#include "tests/support/seeds.hpp"
#include "tests/support/shipped.hpp"

using namespace detent;
using namespace detent::test;

namespace {

std::vector<std::string> texts_of(const std::vector<Word>& words) {
  std::vector<std::string> texts;
  for (const Word& word : words) texts.push_back(word.text);
  return texts;
}

/// Of one text, with its layout thrown about.
void check_mangled(const std::string& text, Chance& chance) {
  const std::string other = mangled(text, chance);
  INFO(other);
  // Thrown about it is still the same design: the test's own work is not taken on trust.
  REQUIRE(fuzz::meaning_of(dsl::compile_text("layout", other)) ==
          fuzz::meaning_of(dsl::compile_text("layout", text)));
  const std::optional<std::string> made = fuzz::formatted(other);
  REQUIRE(made.has_value());
  CHECK(texts_of(words_of(*made)) == texts_of(words_of(text)));
  CHECK(comments_of(*made) == comments_of(other));
  CHECK(fuzz::check_layout(other).broken_promise == "");
}

}  // namespace

TEST_CASE("random designs keep meaning and comments, however they were laid out", "[format]") {
  const Seeds range = seeds(150);
  for (std::uint64_t seed = range.first; seed < range.first + range.count; ++seed) {
    INFO("seed " << seed);
    Chance chance(seed);
    const std::string text = random_design(seed);
    CHECK(fuzz::check_layout(text).broken_promise == "");
    for (int i = 0; i < 4; ++i) check_mangled(text, chance);
  }
}

TEST_CASE("shipped designs keep meaning and comments, however they were laid out", "[format]") {
  Chance chance(7);
  for (const std::string& file : shipped_files()) {
    INFO(file);
    const std::string text(compile_changed(file, [](std::string it) { return it; }).sources.text(0));
    for (int i = 0; i < 3; ++i) check_mangled(text, chance);
    // Blanks alone decide nothing.
    CHECK(fuzz::formatted(with_other_blanks(text, chance)) == text);
  }
}
