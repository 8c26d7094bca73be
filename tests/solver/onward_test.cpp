// The shortest way on that one person can go, on machines small enough to know it. Source: worked out by
// hand.
#include "solver/onward.hpp"
#include "solver/interpreter.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"

namespace detent::test {
namespace {

using dsl::Value;
using solver::Onward;
using solver::Run;

solver::Operator one_person(const dsl::Model& model, Value apart) {
  return {.apart = apart,
          .steady = std::vector<bool>(model.circuit.inputs().size(), false),
          .hand = solver::hands_of(model)};
}

Onward go(const dsl::Model& model, const Run& so_far, const std::string& to, Value apart) {
  const solver::Limits limits({}, {}, nullptr);
  return solver::go_onward(model, so_far, signal_named(model, to).node, one_person(model, apart), {}, limits);
}

/// Ticks in which something moves, and how many inputs do.
std::vector<std::pair<std::size_t, int>> movements(const Run& run) {
  std::vector<std::pair<std::size_t, int>> all;
  for (std::size_t tick = 1; tick < run.ticks(); ++tick) {
    int count = 0;
    for (std::size_t input = 0; input < run.inputs[tick].size(); ++input) {
      count += run.inputs[tick][input] != run.inputs[tick - 1][input] ? 1 : 0;
    }
    if (count > 0) all.emplace_back(tick, count);
  }
  return all;
}

TEST_CASE("one thing moves at a time, and not too soon", "[onward]") {
  const dsl::Model model = compiled(
      "tick 20 ms\npower_up edges ignored\nbutton a\nbutton b\n"
      "latch one set rises(a) and not b reset false\nsignal both = one and rises(b)\noutput lamp = both\n"
      "claim c: possible both\n");
  const Onward onward = go(model, {}, "both", 10);
  REQUIRE(onward.kind == Onward::Kind::found);
  // a at tick 10, 200 ms after power-up; b ten ticks later.
  CHECK(movements(onward.run) == std::vector<std::pair<std::size_t, int>>{{10, 1}, {20, 1}});
  CHECK(onward.run.ticks() == 21);
}

TEST_CASE("a way on goes on from where the run stands", "[onward]") {
  const dsl::Model model = compiled(
      "tick 20 ms\npower_up edges ignored\nbutton a\nbutton b\nlatch one set a reset b\n"
      "pulse window on rises(a) for 400 ms\nsignal late = one and not window and b == a\noutput lamp = late\n"
      "claim c: possible late\n");
  const Onward first = go(model, {}, "window", 10);
  REQUIRE(first.kind == Onward::Kind::found);
  const Onward second = go(model, first.run, "late", 10);
  REQUIRE(second.kind == Onward::Kind::found);
  for (std::size_t tick = 0; tick < first.run.ticks(); ++tick) {
    CHECK(second.run.inputs[tick] == first.run.inputs[tick]);
  }
  // The window opens in tick 10 and is on for 20 ticks; a is let go in between, so that b == a.
  CHECK(second.run.ticks() == 31);
  CHECK(movements(second.run).size() == 2);
}

TEST_CASE("what needs two hands in one tick has no way on", "[onward]") {
  const std::string text =
      "tick 20 ms\npower_up edges ignored\nbutton a\nbutton b\n"
      "signal both = rises(a) and rises(b)\noutput lamp = both\nclaim c: possible both\n";
  CHECK(go(compiled(text), {}, "both", 10).kind == Onward::Kind::none);
  // Two contacts under one button are one hand.
  const Onward tied = go(compiled(text + "assume one_button: always a == b\n"), {}, "both", 10);
  REQUIRE(tied.kind == Onward::Kind::found);
  CHECK(movements(tied.run) == std::vector<std::pair<std::size_t, int>>{{10, 2}});
  const dsl::Model changeover = compiled(text + "assume changeover: always a != b\n");
  CHECK(solver::hands_of(changeover) == std::vector<std::size_t>{0, 0});
}

TEST_CASE("a slow channel goes on without a pause", "[onward]") {
  const dsl::Model model = compiled(
      "tick 20 ms\nchannel line from 0 m to 6 m step 1 m moving at most 1 m per tick\n"
      "at power_up: line == 0 m\nsignal out = line == 6 m\noutput lamp = out\nclaim c: possible out\n");
  const Onward onward = go(model, {}, "out", 10);
  REQUIRE(onward.kind == Onward::Kind::found);
  CHECK(onward.run.ticks() == 16);  // it stands still up to tick 9, and is at 6 m in tick 15
}

TEST_CASE("time and steps are limits", "[onward]") {
  const dsl::Model model = compiled(
      "tick 20 ms\nbutton a\ndelay later on a for 1 s\noutput lamp = later\nclaim c: possible later\n");
  const solver::Limits limits({}, {}, nullptr);
  const auto by = one_person(model, 10);
  const dsl::NodeId later = signal_named(model, "later").node;
  CHECK(solver::go_onward(model, {}, later, by, {.ticks = 50}, limits).kind == Onward::Kind::none);
  CHECK(solver::go_onward(model, {}, later, by, {.ticks = 51}, limits).kind == Onward::Kind::found);
  CHECK(solver::go_onward(model, {}, later, by, {.steps = 1}, limits).kind == Onward::Kind::none);
  std::atomic<bool> stop = true;
  const solver::Limits stopped({}, {}, &stop);
  CHECK(solver::go_onward(model, {}, later, by, {}, stopped).kind == Onward::Kind::stopped);
}

}  // namespace
}  // namespace detent::test
