// What a fault or a slip does to a design, tick by tick on the interpreter. The rows are worked out by hand
// from the formula of each element in dsl/README.md and the meaning of each alteration in dsl/alter.hpp; that
// a fault touches what the design reads and not what the hand does is this project's own decision (no
// source).
#include "dsl/alter.hpp"

#include <string>
#include <vector>

#include "dsl/slip_list.hpp"
#include "dsl/twins.hpp"
#include "solver/interpreter.hpp"
#include "tests/support/altered.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/compiled.hpp"

using namespace detent;
using namespace detent::test;
using Names = std::vector<std::string>;

namespace {

std::string row(const dsl::Model& model, const Rows& rows, const std::string& name) {
  return row_of(model, solver::replay(model.circuit, run_of(model, rows)), name);
}

const char* const small = R"(tick 10 ms
channel lever from 0 to 9
button key
switch mode is a | b
signal far = lever >= 5
delay ready on far for 2 ticks
latch lit set ready and key reset mode is b
output lamp = lit
claim c: whenever lamp: lever >= 5
)";

const char* const linked = R"(tick 10 ms
channel lever from 0 to 9
button key
link radio carries lever, key lost: lever 2, key released
link cable carries mode lost: as before
switch mode is a | b | c
signal level = lever
signal held_down = key
signal gone = radio is lost
signal m = mode
claim c: never held_down and level == 9 and gone and m is c
)";

}  // namespace

TEST_CASE("Every fault of a design is listed once, with a name of its own") {
  const dsl::Compiled compiled = front(small);
  CHECK(names_of(dsl::list_faults(*compiled.design, {.tolerance = 100'000, .bounce_ticks = 2})) ==
        Names{"lever stuck at 0",
              "lever stuck at 4",
              "lever stuck at 9",
              "key stuck released",
              "key stuck pressed",
              "key bounces for 20 ms",
              "mode stuck at a",
              "mode stuck at b",
              "mode bounces for 20 ms",
              "far stuck on",
              "far stuck off",
              "ready stuck on",
              "ready stuck off",
              "ready too fast (10 ms for 20 ms)",
              "ready too slow (30 ms for 20 ms)",
              "lit stuck on",
              "lit stuck off",
              "lit starts on",
              "lamp stuck on",
              "lamp stuck off"});
}

TEST_CASE("A timer is wrong by a share of its time, rounded up, and by a tick at least") {
  const std::string text = "tick 10 ms\nbutton a\npulse p on a for 21 ticks\nclaim c: never p while not a\n";
  const auto faults = [&](dsl::Value millionths) {
    return names_of(dsl::list_faults(*front(text).design, {.tolerance = millionths, .bounce_ticks = 1}));
  };
  CHECK(faults(100'000)[5] == "p too fast (180 ms for 210 ms)");  // 2.1 ticks are three
  CHECK(faults(100'000)[6] == "p too slow (240 ms for 210 ms)");
  CHECK(faults(1)[6] == "p too slow (220 ms for 210 ms)");
  CHECK(faults(1'000'000)[5] ==
        "p too slow (420 ms for 210 ms)");  // a pulse of no time is no fault that is tried
}

TEST_CASE("A stuck input is stuck for the design, and free for whoever claims something of it") {
  const dsl::Model model = with_fault(small, {"lever stuck at 9"});
  const Rows rows{{"lever", "000000"}, {"key", "001100"}};
  CHECK(row(model, rows, "lever") == "000000");
  CHECK(row(model, rows, "far") == "111111");
  CHECK(row(model, rows, "lamp") == "001111");
  CHECK(row(model, rows, "lamp") != answer(small, rows, "lamp"));
  const solver::Trace trace = solver::replay(model.circuit, run_of(model, rows));
  CHECK(trace.at(1, model.claims[0].watch) == 0);
  CHECK(trace.at(2, model.claims[0].watch) == 1);
}

TEST_CASE("A claim that names a name for how the hands stand means the hands, not the faulty reading") {
  const std::string text = R"(tick 10 ms
channel lever from 0 to 9
button key
signal low = lever <= 1
latch lit set key and low reset false
output lamp = lit
claim c: whenever rises(lamp): low
)";
  CHECK(dsl::names_for_hands(*front(text).design) == std::vector<bool>{false, false, true, false, false});
  for (const char* fault : {"lever stuck at 0", "low stuck on"}) {
    INFO(fault);
    const dsl::Model model = with_fault(text, {fault});
    const Rows rows{{"lever", "55"}, {"key", "01"}};
    CHECK(row(model, rows, "low") == "11");
    CHECK(row(model, rows, "real low") == "00");
    const solver::Trace trace = solver::replay(model.circuit, run_of(model, rows));
    CHECK(trace.at(1, model.claims[0].watch) == 1);
  }
}

TEST_CASE("What no output depends on has no faults, and means the hands") {
  const std::string text = R"(tick 10 ms
button key
button other
signal both = key and other
output lamp = key
claim c: never both and not lamp
)";
  const dsl::Compiled compiled = front(text);
  CHECK(names_of(dsl::list_faults(*compiled.design, {})) == Names{"key stuck released", "key stuck pressed",
                                                                  "key bounces for 30 ms", "lamp stuck on",
                                                                  "lamp stuck off"});
  CHECK(dsl::names_for_hands(*compiled.design) == std::vector<bool>{false, false, true, false});
  const dsl::Model model = with_fault(text, {"key stuck released"});
  const solver::Trace trace = solver::replay(model.circuit, run_of(model, {{"key", "01"}, {"other", "01"}}));
  CHECK(trace.at(1, model.claims[0].watch) == 1);
}

TEST_CASE("A contact that bounces may read as before for so many ticks after each change") {
  const char* const text = "tick 10 ms\nbutton key\nsignal lit = key\nclaim c: never lit while not key\n";
  const dsl::Model model = with_fault(text, {"key bounces for 20 ms"}, {.tolerance = 1, .bounce_ticks = 2});
  CHECK(row(model, {{"key", "0111100000"}, {"key contact", "0000000000"}}, "lit") == "0111100000");
  CHECK(row(model, {{"key", "0111100000"}, {"key contact", "1111111111"}}, "lit") == "0001111000");
  CHECK(row(model, {{"key", "0111100000"}, {"key contact", "0010001000"}}, "lit") == "0101101000");
  CHECK(row(model, {{"key", "1111"}, {"key contact", "1111"}}, "lit") ==
        "1111");  // nothing changed at power-up
}

TEST_CASE("A link's faults: not noticed, keeps what came last, lost for good") {
  const Rows rows{
      {"lever", "557799"}, {"key", "111111"}, {"radio", "001100"}, {"mode", "011222"}, {"cable", "000000"}};
  CHECK(answer(linked, rows, "level") == "552299");
  const dsl::Model unnoticed = with_fault(linked, {"radio lost unnoticed"});
  CHECK(row(unnoticed, rows, "level") == "552299");
  CHECK(row(unnoticed, rows, "gone") == "000000");
  const dsl::Model keeps = with_fault(linked, {"radio keeps what came last"});
  CHECK(row(keeps, rows, "level") == "555599");
  CHECK(row(keeps, rows, "held_down") == "111111");
  CHECK(row(keeps, rows, "gone") == "001100");
  const dsl::Model lost = with_fault(linked, {"radio lost for good"});
  CHECK(row(lost, rows, "level") == "222222");
  CHECK(row(lost, rows, "held_down") == "000000");
  CHECK(row(lost, rows, "gone") == "111111");
  CHECK(row(with_fault(linked, {"cable lost for good"}), rows, "m") == "000000");
}

TEST_CASE("Two faults at once: each does what it does alone") {
  const Rows rows{{"lever", "557799"}, {"key", "110011"}, {"radio", "001100"}};
  const dsl::Model model = with_fault(linked, {"radio keeps what came last", "key bounces for 10 ms"},
                                      {.tolerance = 1, .bounce_ticks = 1});
  CHECK(row(model, rows, "level") == "555599");
  // The link keeps `pressed`; the key is let go and pressed again while nobody hears of it.
  CHECK(row(model, rows, "held_down") == "111111");
}

TEST_CASE("Slips: what everybody sees of an element is another") {
  const Rows rows{{"lever", "0555555000"}, {"key", "1111111111"}, {"mode", "0000001000"}};
  CHECK(answer(small, rows, "ready") == "0001111000");
  CHECK(answer(small, rows, "lamp") == "0001110000");
  CHECK(row(with_slip(small, "ready a tick longer (30 ms for 20 ms)"), rows, "ready") == "0000111000");
  CHECK(row(with_slip(small, "ready a tick shorter (10 ms for 20 ms)"), rows, "ready") == "0011111000");
  CHECK(row(with_slip(small, "far with 6 for 5"), rows, "ready") == "0000000000");
  CHECK(row(with_slip(small, "far inverted"), rows, "far") == "1000000111");
  CHECK(row(with_slip(small, "ready inverted"), rows, "ready") == "1110000111");
  CHECK(row(with_slip(small, "lit inverted"), rows, "lamp") == "1110001111");
  CHECK(row(with_slip(small, "lit lets set win"), rows, "lamp") == "0001111111");
  CHECK(row(with_slip(small, "lit starts on"), rows, "lamp") == "1111110000");
  CHECK(row(with_slip(small, "lamp always on"), rows, "lamp") == "1111111111");
}

TEST_CASE("Slips of stages: stuck in one, a line left out, a line's time") {
  const char* const text = R"(tick 10 ms
button key
stages s is rest | work
  rest -> work when key
  work -> rest after 2 ticks
output o = s
claim c: possible s is work
)";
  const Rows rows{{"key", "01000000"}};
  CHECK(answer(text, rows, "s") == "01100000");
  CHECK(row(with_slip(text, "s always at work"), rows, "s") == "11111111");
  CHECK(row(with_slip(text, "s without its line work -> rest"), rows, "s") == "01111111");
  CHECK(row(with_slip(text, "s a tick longer (30 ms for 20 ms)"), rows, "s") == "01110000");
  CHECK(row(with_slip(text, "s a tick shorter (10 ms for 20 ms)"), rows, "s") == "01000000");
}

TEST_CASE("A threshold moves by a step of its channel, and not past its other side") {
  const char* const text = R"(tick 10 ms
channel lever from 0 % to 100 % step 5 %
signal half = 0.5 * lever
signal a = half >= 20 %
signal b = below(lever, 40 %, until 40 %)
claim c: never a and b
)";
  const dsl::Compiled compiled = front(text);
  const Names names = names_of(dsl::list_slips(*compiled.design, compiled.sources));
  const auto has = [&](const std::string& name) { return std::count(names.begin(), names.end(), name) == 1; };
  CHECK(has("a with 22.5 % for 20 %"));
  CHECK(has("a with 17.5 % for 20 %"));
  CHECK(has("b with 35 % for 40 %"));
  CHECK(has("b with 45 % for 40 %"));
  CHECK(std::count_if(names.begin(), names.end(),
                      [](const auto& name) { return name.rfind("b with", 0) == 0; }) == 2);
}

TEST_CASE("The original beside the altered design does what the original does") {
  const dsl::Compiled compiled = front(small);
  const std::vector<dsl::Alteration> list = dsl::list_slips(*compiled.design, compiled.sources);
  const dsl::Model both = model_of(
      dsl::beside_original(*compiled.design, named_alteration(list, "ready a tick longer (30 ms for 20 ms)")),
      compiled.sources);
  REQUIRE(both.claims.size() == 1);
  const auto differs = [&](const Rows& rows) {
    const solver::Trace trace = solver::replay(both.circuit, run_of(both, rows));
    std::string row;
    for (std::size_t tick = 0; tick < trace.ticks(); ++tick) {
      row += trace.at(tick, both.claims[0].watch) != 0 ? '1' : '0';
    }
    return row;
  };
  CHECK(differs({{"lever", "0555555000"}, {"key", "1111111111"}, {"mode", "0000001000"}}) == "0001000000");
  CHECK(differs({{"lever", "0555555000"}, {"key", "0000111111"}, {"mode", "0000001000"}}) == "0000000000");
}
