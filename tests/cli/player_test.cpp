// Runs by hand: played with quiet time skipped, kept by their changes, written and read.
#include "cli/player.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/chronicle.hpp"
#include "cli/json_run.hpp"
#include "cli/run_text.hpp"
#include "cli/time_text.hpp"
#include "cli/value_text.hpp"
#include "solver/interpreter.hpp"
#include "tests/cli/sample.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chance.hpp"
#include "tests/support/design_generator.hpp"

namespace detent::test {
namespace {

using cli::HandRun;
using dsl::Value;

dsl::Model model_of(const std::string& text) {
  return std::move(*compiled_text(text).model);
}

const dsl::Signal& signal_named(const dsl::Model& model, const std::string& name) {
  return *std::find_if(model.signals.begin(), model.signals.end(),
                       [&](const dsl::Signal& one) { return one.name == name; });
}

/// Inputs that rarely move, so that there is quiet time to skip.
solver::Run lazy_run(const dsl::Circuit& circuit, std::size_t ticks, Chance& chance) {
  std::vector<Value> row;
  const auto any = [&](const dsl::CircuitInput& input) {
    return input.range.low +
           chance.between(0, (input.range.high - input.range.low) / input.step) * input.step;
  };
  for (const dsl::CircuitInput& input : circuit.inputs()) row.push_back(any(input));
  solver::Run run;
  for (std::size_t tick = 0; tick < ticks; ++tick) {
    for (std::size_t i = 0; i < row.size(); ++i) {
      if (chance.one_in(12)) row[i] = any(circuit.inputs()[i]);
    }
    run.inputs.push_back(row);
  }
  return run;
}

}  // namespace

TEST_CASE("what is played with quiet time skipped is what the interpreter does tick by tick") {
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    const std::string text = random_design(seed);
    INFO(seed << '\n' << text);
    const dsl::Model model = model_of(text);
    Chance chance(seed);
    const solver::Run run = lazy_run(model.circuit, 60, chance);
    const solver::Trace plain = solver::replay(model.circuit, run);
    const std::vector<dsl::NodeId> told = cli::told_nodes(model);
    cli::Chronicle chronicle(model.circuit, told);
    Value stretches = 0;
    cli::play(model, cli::by_changes(run), [&](const std::vector<Value>& values, Value tick, Value count) {
      REQUIRE(static_cast<std::size_t>(tick) == chronicle.ticks());
      chronicle.add(values, count);
      ++stretches;
      return true;
    });
    REQUIRE(chronicle.ticks() == plain.ticks());
    CHECK(stretches <= 60);
    for (std::size_t tick = 0; tick < plain.ticks(); ++tick) {
      for (const dsl::NodeId node : told) REQUIRE(chronicle.trace().at(tick, node) == plain.at(tick, node));
    }
    chronicle.cut(17);
    REQUIRE(chronicle.ticks() == 17);
    for (const dsl::NodeId node : told) CHECK(chronicle.trace().at(16, node) == plain.at(16, node));
  }
}

TEST_CASE("quiet hours are skipped, not played") {
  const dsl::Model model = model_of("tick 1 ms\nbutton b\ndelay d on b for 10 s\nclaim c: never d");
  HandRun run{.rows = {{0, {0}}, {1'000, {1}}}, .ticks = 30'000'000};
  Value stretches = 0;
  Value on_at = -1;
  const dsl::NodeId node = signal_named(model, "d").node;
  cli::play(model, run, [&](const std::vector<Value>& values, Value tick, Value) {
    ++stretches;
    if (values[node] != 0 && on_at < 0) on_at = tick;
    return true;
  });
  CHECK(on_at == 11'000);  // TON: on once its input was on for the whole time
  CHECK(stretches < 20);
}

TEST_CASE("a run that is written is read back as the same run") {
  for (std::uint64_t seed = 0; seed < 40; ++seed) {
    const dsl::Model model = model_of(random_design(seed));
    Chance chance(seed + 1000);
    const solver::Run run = lazy_run(model.circuit, 30, chance);
    const HandRun hands = cli::by_changes(run);
    const std::string text = cli::run_text(model, hands);
    INFO(random_design(seed) << text);
    const cli::Reading<HandRun> read = cli::read_run(model, text);
    INFO(read.problem);
    REQUIRE(read.value.has_value());
    CHECK(*read.value == hands);
    const cli::Reading<HandRun> json = cli::read_run(model, cli::json_run(model, run).dump());
    INFO(json.problem);
    REQUIRE(json.value.has_value());
    CHECK(*json.value == hands);
  }
}

TEST_CASE("runs written by hand") {
  const dsl::Compiled boat = compiled_text(boat_text());
  const dsl::Model& model = *boat.model;
  const auto thrust = [&](const HandRun& run, std::size_t row) {
    return run.rows[row].inputs[signal_named(model, "thrust").input];
  };
  SECTION("what is left out stands at rest; the end is the last movement") {
    const auto run =
        cli::read_run(model, "// a slip\r\n\r\nat 0.1 s thrust to 40, nudge pressed // quick\r\n");
    REQUIRE(run.value.has_value());
    REQUIRE(run.value->rows.size() == 2);
    CHECK(run.value->ticks == 6);
    CHECK(run.value->rows[1].tick == 5);
    CHECK(thrust(*run.value, 0) == 0);
    CHECK(thrust(*run.value, 1) == 40);
  }
  SECTION("times as ticks, and an end") {
    const auto run =
        cli::read_run(model, "tick 20 ms\nat tick 3 radio lost\nat 5 ticks radio there\nend 1 min");
    REQUIRE(run.value.has_value());
    CHECK(run.value->ticks == 3001);
    CHECK(run.value->rows[2].tick == 5);
  }
}

TEST_CASE("mistakes in a run are told with their line and the mend") {
  struct Row {
    const char* text;
    const char* problem;
    const char* mend;
  };
  const dsl::Compiled boat = compiled_text(boat_text());
  const std::string deep(100'000, '[');
  for (const Row& row : std::initializer_list<Row>{
           {"", "there is no run in it", "at 0 s"},
           {"at 0 s thrst 4 %", "line 1: no input is called 'thrst'", "did you mean 'thrust'?"},
           {"at 0 s thrust", "line 1: '' is no level of thrust", "-100 %"},
           {"at 0 s thrust 101 %", "it goes from -100 % to 100 %", "from -100 % to 100 %"},
           {"at 0 s thrust 0.5 %", "thrust has no such level", "write 0 % or 1 %"},
           {"at 0 s thrust 4 mm", "in another unit", "-100 %"},
           {"at 0 s thrust 1e400 %", "is", ""},
           {"at 0 s guard half", "guard is never 'half'", "guard can be: safe, run"},
           {"at 0 s jet 4 %", "no input is called 'jet'", "the inputs are: thrust"},
           {"at 0 s thrust 4 %, thrust 5 %", "moved twice", "leave one"},
           {"at 0 s thrust 4 %,", "a movement is missing", "thrust 40 %"},
           {"\nat 30 ms nudge pressed", "line 2: 30 ms is not a whole number of ticks", "20 ms or 40 ms"},
           {"at 1 s nudge pressed\nat 1 s stop pressed", "line 2: 1 s is not later", "one line"},
           {"at 1 nudge pressed", "'1' is no time", "with its unit"},
           {"at nudge pressed", "there is no time", "at 0.5 s"},
           {"at 1 s", "nothing is moved", "at 0.5 s"},
           {"at 99999999 h nudge pressed", "longer than a run may be", "50000000 ticks"},
           {"tick 10 ms\nat 0 s nudge pressed", "line 1: the run was made for a tick of 10 ms",
            "look through them"},
           {"at 1 s nudge pressed\nend 0.5 s", "line 2: the end is earlier", "later end"},
           {"end 1 s\nat 2 s nudge pressed", "line 2: something stands behind", "last line"},
           {"nudge pressed", "line 1: 'nudge' begins no line", "at, end, tick"},
           {"{", "not well formed", "NAME.run.json"},
           {"{\"ticks\": 3, \"ticks\": 4, \"inputs\": []}", "'ticks' stands twice", "leave one"},
           {"{\"ticks\": 3, \"tick_us\": 7, \"inputs\": []}", "made for a tick with 'tick_us' 7", "design"},
           {"{\"ticks\": 3, \"tick_us\": \"x\", \"inputs\": []}", "made for a tick", "design"},
           {"{\"ticks\": 3}", "it is no run", "NAME.run.json"},
           {"{\"ticks\": 0, \"inputs\": []}", "'ticks' is no whole number", "NAME.run.json"},
           {"{\"ticks\": 99999999999999999999, \"inputs\": []}", "'ticks' is no whole number",
            "NAME.run.json"},
           {"{\"ticks\": 3, \"inputs\": [{\"tick\": 4, \"values\": {}}]}", "inputs[0]", "NAME.run.json"},
           {"{\"ticks\": 3, \"inputs\": [{\"tick\": 0, \"values\": {\"jet\": 1}}]}",
            "no input is called 'jet'", ""},
           {"{\"ticks\": 3, \"inputs\": [{\"tick\": 0, \"values\": {\"thrust\": 1000}}]}", "no such value",
            ""},
           {"{\"ticks\": 3, \"inputs\": [{\"tick\": 0, \"values\": {\"stop\": 1}}]}", "no such value", ""},
       }) {
    const cli::Reading<HandRun> read = cli::read_run(*boat.model, row.text);
    INFO(row.text << " -> " << read.problem << " / " << read.mend);
    CHECK_FALSE(read.value.has_value());
    CHECK(read.problem.find(row.problem) != std::string::npos);
    CHECK(read.mend.find(row.mend) != std::string::npos);
  }
  CHECK(cli::read_run(*boat.model, "[1]", true).problem.find("no object") != std::string::npos);
  CHECK(cli::read_run(*boat.model, " ", true).problem.find("empty") != std::string::npos);
  CHECK_FALSE(cli::read_run(*boat.model, "{\"a\":" + deep).value.has_value());
  CHECK_FALSE(cli::read_run(*boat.model, std::string("at 0 s\0thrust 4 %", 17)).value.has_value());
}

TEST_CASE("times by hand") {
  constexpr std::int64_t tick_us = 20'000;
  CHECK(cli::read_moment("0 s", tick_us).value == 0);
  CHECK(cli::read_moment("tick 12", tick_us).value == 12);
  CHECK(cli::read_moment("12 ticks", tick_us).value == 12);
  CHECK(cli::read_moment("0.04s", tick_us).value == 2);
  CHECK(cli::read_moment("8 h", tick_us).value == 1'440'000);
  for (const char* bad :
       {"", "s", "1", "-1 s", "1 s s", "0.03 s", "1.5 ticks", "tick", "tick x", "nan s", "1e9 s"}) {
    INFO(bad);
    CHECK_FALSE(cli::read_moment(bad, tick_us).value.has_value());
  }
  CHECK(cli::read_nanoseconds("40 ms", tick_us).value == 40'000'000);
  CHECK(cli::read_nanoseconds("0.001 us", tick_us).value == 1);
  CHECK_FALSE(cli::read_nanoseconds("0.0001 us", tick_us).value.has_value());
  CHECK_FALSE(cli::read_nanoseconds("999999 h", tick_us).value.has_value());
  CHECK(cli::nanoseconds_words(40'500'000) == "0.0405 s");
}

}  // namespace detent::test
