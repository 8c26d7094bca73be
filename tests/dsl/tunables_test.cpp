// What `detent tune` reads of a text: its tunables in whole numbers, steps as they are written, and the text
// with other values in their place. The language's rules are in dsl/README.md ("Tunable"); that the finest
// step of a level is one of its last written digit is this project's own decision (no source).
#include "dsl/tunables.hpp"

#include "dsl/front.hpp"
#include "tests/support/catch.hpp"

using namespace detent;

namespace {

const char* const text = R"(tick 20 ms
tunable patience "How long the window stays open." = 8 s from 1 s to 15 s
tunable rest = -98.0 % from -99.5 % to -97 %
tunable most = 3 from 0 to 9
channel thrust from -100 % to 100 % step 0.5 %
button go
part timer(condition press)
  tunable hold = 2 ticks from 1 tick to 5 ticks
  pulse window on press for hold
end
use t = timer(go)
pulse open on go for patience
counter n up go from 0 to 9
claim c: never open and thrust > rest and n > most and t.window
)";

dsl::Compiled good() {
  dsl::Compiled compiled = dsl::compile_text("test.detent", text);
  for (const dsl::Diagnostic& one : compiled.diagnostics) INFO(one.message);
  REQUIRE(compiled.model);
  return compiled;
}

}  // namespace

TEST_CASE("Tunables are read in the order of the text, parts too, in ticks or whole numbers") {
  const auto all = dsl::tunables(good().tree, 20'000);
  REQUIRE(all.size() == 4);
  CHECK(all[0].name == "patience");
  CHECK(all[0].doc == "How long the window stays open.");
  CHECK(all[0].is_time);
  CHECK(all[0].written == 400);  // 8 s of 20 ms
  CHECK(all[0].low == 50);
  CHECK(all[0].high == 750);
  CHECK(all[1].name == "rest");
  CHECK_FALSE(all[1].is_time);
  CHECK(all[1].sort.decimals == 1);  // of -98.0 %, the most behind a point on its line
  CHECK(all[1].written == -980);
  CHECK(all[1].low == -995);
  CHECK(all[1].high == -970);
  CHECK(all[2].name == "most");
  CHECK(all[2].sort.unit.empty());
  CHECK(all[3].name == "timer.hold");
  CHECK(all[3].written == 2);
  CHECK(all[3].path.size() == 2);
}

TEST_CASE("Values of tunables in words") {
  const auto all = dsl::tunables(good().tree, 20'000);
  CHECK(dsl::value_text(all[0], 175, 20'000) == "3.5 s");
  CHECK(dsl::value_text(all[1], -985, 20'000) == "-98.5 %");
  CHECK(dsl::value_text(all[2], 7, 20'000) == "7");
}

TEST_CASE(
    "A step is a whole number of ticks or of the last digit, in the unit of the tunable, and at least one") {
  const auto all = dsl::tunables(good().tree, 20'000);
  CHECK(dsl::read_step(all[0], "100 ms", 20'000) == 5);
  CHECK(dsl::read_step(all[0], "100ms", 20'000) == 5);
  CHECK(dsl::read_step(all[0], "1 tick", 20'000) == 1);
  CHECK(dsl::read_step(all[0], "0.5 s", 20'000) == 25);
  CHECK(dsl::read_step(all[1], "0.5 %", 20'000) == 5);
  CHECK(dsl::read_step(all[1], "1%", 20'000) == 10);
  CHECK(dsl::read_step(all[2], "2", 20'000) == 2);
  for (const char* wrong : {"", " ", "5", "30 ms", "0 ms", "-20 ms", "1.2.3 s", "1e3 ms", "%", "5 %", ".",
                            "1. s", "9999999999999 s", "0.0000001 s"}) {
    INFO(wrong);
    CHECK_FALSE(dsl::read_step(all[0], wrong, 20'000));
  }
  CHECK_FALSE(dsl::read_step(all[1], "0.05 %", 20'000));
  CHECK_FALSE(dsl::read_step(all[1], "1 s", 20'000));
  CHECK_FALSE(dsl::read_step(all[2], "1 %", 20'000));
}

TEST_CASE("Values are put in where they were written, and what is wrong then is told") {
  const dsl::Compiled compiled = good();
  const auto all = dsl::tunables(compiled.tree, 20'000);
  const auto same = dsl::with_values(compiled.tree, compiled.sources,
                                     {{&all[0], all[0].written}, {&all[3], all[3].written}});
  REQUIRE(same.model);
  CHECK(dsl::to_text(same.model->circuit) == dsl::to_text(compiled.model->circuit));
  const auto other = dsl::with_values(compiled.tree, compiled.sources, {{&all[3], 3}});
  REQUIRE(other.model);
  CHECK(other.errors.empty());
  CHECK(dsl::to_text(other.model->circuit) != dsl::to_text(compiled.model->circuit));
  // The same text, with the value written by hand.
  std::string by_hand = text;
  const std::string old = "hold = 2 ticks";
  by_hand.replace(by_hand.find(old), old.size(), "hold = 3 ticks");
  CHECK(dsl::to_text(other.model->circuit) ==
        dsl::to_text(dsl::compile_text("hand.detent", by_hand).model->circuit));
}

TEST_CASE("A value with which the text is wrong makes no design, and says why") {
  const dsl::Compiled compiled = dsl::compile_text("test.detent", R"(tick 20 ms
tunable off = 20 % from 10 % to 60 %
channel lever from 0 % to 100 % step 1 %
signal far = above(lever, 40 %, until off)
claim c: never far and lever < 10 %
)");
  REQUIRE(compiled.model);
  const auto all = dsl::tunables(compiled.tree, 20'000);
  REQUIRE(all.size() == 1);
  CHECK(dsl::with_values(compiled.tree, compiled.sources, {{&all[0], 40}}).model);
  const dsl::Tried wrong = dsl::with_values(compiled.tree, compiled.sources, {{&all[0], 41}});
  CHECK_FALSE(wrong.model);
  REQUIRE_FALSE(wrong.errors.empty());
}

TEST_CASE("What is no whole number of ticks or has two units is left out, as the checker reports it") {
  const dsl::Compiled compiled = dsl::compile_text("test.detent", R"(tick 20 ms
tunable odd = 30 ms from 20 ms to 40 ms
tunable mixed = 3 % from 1 to 5 %
button a
claim c: never a
)");
  CHECK(dsl::tunables(compiled.tree, 20'000).empty());
}
