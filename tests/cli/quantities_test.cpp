// Quantities are exact or refused. The figures are arithmetic: at 20 ms a tick 20 s are 1000 ticks.
#include "cli/quantities.hpp"
#include "cli/bound.hpp"
#include "tests/support/catch.hpp"

namespace detent::cli {
namespace {

constexpr std::int64_t tick = 20'000;

std::optional<dsl::Value> ticks(const std::string& text, std::int64_t tick_us = tick) {
  const auto reading = read_ticks(text, tick_us);
  CHECK(reading.value.has_value() == reading.problem.empty());
  CHECK(reading.value.has_value() == reading.mend.empty());
  return reading.value;
}

}  // namespace

TEST_CASE("a bound in ticks or as a time") {
  CHECK(ticks("2000 ticks") == 2000);
  CHECK(ticks("1 tick") == 1);
  CHECK(ticks("20 s") == 1000);
  CHECK(ticks("20s") == 1000);
  CHECK(ticks(" 0.02 s ") == 1);
  CHECK(ticks("2.5 min") == 7500);
  CHECK(ticks("40 ms") == 2);
  CHECK(ticks("20000 us") == 1);
  CHECK(ticks("1 s", 3) == std::nullopt);  // 1000000 is no multiple of 3
  CHECK(ticks("3 s", 3) == most_ticks);
  CHECK(ticks("1000000 ticks") == most_ticks);
}

TEST_CASE("what is not a whole number of ticks names the two nearest") {
  const auto between = read_ticks("50 ms", tick);
  CHECK(between.problem == "50 ms is not a whole number of ticks (a tick is 20 ms)");
  CHECK(between.mend == "write 40 ms or 60 ms");
  CHECK(read_ticks("0.001 ms", tick).mend == "write 20 ms or more");
  CHECK_FALSE(ticks("1.5 ticks"));
}

TEST_CASE("what is no bound is refused with a mend") {
  for (const char* text : {"",
                           " ",
                           "20",
                           "s",
                           "-5 s",
                           "20 parsecs",
                           "1.2.3 s",
                           "1. s",
                           ".5 s",
                           "0 ticks",
                           "0 s",
                           "1000001 ticks",
                           "999999999999 s",
                           "123456789012 s",
                           "99999999999 h",
                           "0x10 s",
                           "1e3 s",
                           "20 s s",
                           "2 ticks 3",
                           "\x1b s"}) {
    INFO(text);
    CHECK_FALSE(ticks(text));
  }
}

TEST_CASE("times and memory") {
  using std::chrono::milliseconds;
  CHECK(read_time("30s").value == milliseconds(30'000));
  CHECK(read_time("1.5 s").value == milliseconds(1'500));
  CHECK(read_time("1 ms").value == milliseconds(1));
  CHECK(read_time("1000 h").value == milliseconds(3'600'000'000));
  for (const char* text : {"", "30", "0s", "0.5 ms", "1001 h", "-1 s", "ten s"})
    CHECK_FALSE(read_time(text).value);
  CHECK(read_memory("2GiB").value == 2048);
  CHECK(read_memory("512 MiB").value == 512);
  CHECK(read_memory("0.5GiB").value == 512);
  for (const char* text : {"", "2", "2GB", "1MiB", "63MiB", "2000000GiB", "0.3MiB", "-2GiB"}) {
    CHECK_FALSE(read_memory(text).value);
  }
  CHECK(read_width("40").value == 40);
  CHECK(read_width("1000").value == 1000);
  for (const char* text : {"", "39", "1001", "80 columns", "8.5", "-80"}) CHECK_FALSE(read_width(text).value);
}

TEST_CASE("the default bound is twice the longest time and 50 ticks, from 100 to 2000") {
  dsl::Model model;
  model.tick_us = tick;
  const auto bound = [&](dsl::Value longest) {
    model.longest_time = longest;
    return choose_bound(model, {}).value.value().ticks;
  };
  CHECK(bound(0) == 100);
  CHECK(bound(25) == 100);
  CHECK(bound(26) == 102);
  CHECK(bound(400) == 850);
  CHECK(bound(975) == 2000);
  CHECK(bound(976) == 2000);
  CHECK(bound(1'000'000'000) == 2000);
  CHECK(choose_bound(model, "3 ticks").value.value().ticks == 3);
  CHECK(choose_bound(model, "3 ticks").value.value().asked);
  CHECK_FALSE(choose_bound(model, "soon").value);
  CHECK_FALSE(reaches_longest_time(model, 2000));
}

}  // namespace detent::cli
