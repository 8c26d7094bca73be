// Value change dumps by a strict reader of our own (tests/cli/vcd_reader.hpp), value by value and time by
// time against the run; and by an independent one: through GTKWave's vcd2fst into its own binary form and out
// of it by fst2vcd, the same values at the same times.
//
// Checked: runs as value change dumps: every value at every tick, also through another program's form | IEEE
// 1364-2005, clause 18 | as reproduced in secondary sources
#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/vcd.hpp"
#include "cli/words.hpp"
#include "solver/interpreter.hpp"
#include "tests/cli/sample.hpp"
#include "tests/cli/vcd_reader.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/outside.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"
#include "tests/support/shipped.hpp"

namespace detent::test {
namespace {

using nlohmann::json;

/// 64 binary digits of a number: short ones are extended by 0 on the left.
std::int64_t number_of(const std::string& digits) {
  std::uint64_t number = 0;
  for (const char digit : digits) number = number << 1U | static_cast<std::uint64_t>(digit - '0');
  return static_cast<std::int64_t>(number);
}

/// What a variable stands at, at a time.
std::int64_t value_at(const Dump& dump, const std::string& name, std::int64_t time) {
  const Dump::Changes& changes = dump.values.at(name);
  return number_of(std::prev(changes.upper_bound(time))->second);
}

std::string variable_of(const dsl::Signal& signal) {
  std::string name = "design." + signal.name + (cli::is_link(signal) ? "_lost" : "");
  std::replace(name.begin(), name.end(), ' ', '_');
  return name;
}

void check_dump(const dsl::Model& model, const solver::Run& run, const Dump& dump) {
  CHECK(dump.timescale == "1 us");
  CHECK(dump.kinds.size() == model.signals.size());
  CHECK(dump.end == static_cast<std::int64_t>(run.ticks()) * model.tick_us);
  const solver::Trace trace = solver::replay(model.circuit, run);
  for (const dsl::Signal& signal : model.signals) {
    INFO(signal.name);
    REQUIRE(dump.values.count(variable_of(signal)) == 1);
    for (std::size_t tick = 0; tick < run.ticks(); ++tick) {
      const std::int64_t begin = static_cast<std::int64_t>(tick) * model.tick_us;
      REQUIRE(value_at(dump, variable_of(signal), begin) == trace.at(tick, signal.node));
      REQUIRE(value_at(dump, variable_of(signal), begin + model.tick_us - 1) == trace.at(tick, signal.node));
    }
  }
}

/// The same dump through GTKWave's form; "" where it is not installed.
std::string through_fst(const std::string& text) {
  const auto there = needed("vcd2fst", "gtkwave");
  const auto back = needed("fst2vcd", "gtkwave");
  if (!there || !back) return "";
  const Folder folder;
  const std::string vcd = folder.write("run.vcd", text);
  REQUIRE(run_process({*there, vcd, folder.path() + "/run.fst"}).status == 0);
  const ProcessResult result = run_process({*back, folder.path() + "/run.fst"});
  REQUIRE(result.status == 0);
  return result.output;
}

/// What fst2vcd writes says the same as the dump that went in. It gives other codes, "$dumpvars", and values
/// of full length.
void check_same(const Dump& dump, const std::string& other) {
  std::string text;
  std::istringstream lines(other);
  bool dumping = false;
  for (std::string line; std::getline(lines, line);) {
    dumping = dumping || line == "$dumpvars";
    if (line == "$dumpvars" || (dumping && line == "$end")) continue;
    text += line + "\n";
  }
  const Dump read = read_vcd(text);
  CHECK(read.kinds.size() == dump.kinds.size());
  CHECK((read.timescale == "1us" || read.timescale == "1 us"));
  for (const auto& [name, changes] : dump.values) {
    INFO(name);
    REQUIRE(read.values.count(name) == 1);
    for (const auto& [time, digits] : changes) CHECK(value_at(read, name, time) == number_of(digits));
    for (const auto& [time, digits] : read.values.at(name))
      CHECK(value_at(dump, name, time) == number_of(digits));
  }
}

}  // namespace

TEST_CASE("runs as value change dumps say what the runs do", "[export][vcd]") {
  bool asked = true;
  for (const auto& [file, claim] : std::vector<std::pair<std::string, std::string>>{
           {"boat/flaw_window_kept_alive.detent", "window_closes"},
           {"boat/pump_jet.detent", ""},
           {"mistakes/reset_starts.detent", "start_is_meant"},
           {"winch/flaw_limit_before_ramp.detent", "lower_limit_holds"}}) {
    INFO(file);
    std::vector<std::string> words{"export", DETENT_SOURCE_DIR "/specs/" + file, "--as", "vcd"};
    if (!claim.empty()) words.insert(words.end(), {"--claim", claim});
    const ProcessResult result = run_detent(words);
    INFO(result.errors);
    REQUIRE(!result.output.empty());
    const Dump dump = read_vcd(result.output);
    const json report =
        json::parse(run_detent({"check", DETENT_SOURCE_DIR "/specs/" + file, "--format", "json"}).output);
    CHECK(dump.kinds.size() == report["signals"].size());
    const std::string other = through_fst(result.output);
    asked = asked && !other.empty();
    if (!other.empty()) check_same(dump, other);
  }
  if (!asked) WARN("GTKWave's vcd2fst is not installed; it was not asked");
}

TEST_CASE("every value at every tick, for ticks of any length", "[export][vcd]") {
  for (const char* tick : {"1 us", "7 us", "333 us", "20 ms", "1 s"}) {
    INFO(tick);
    const dsl::Compiled design = compiled_text(std::string("tick ") + tick + R"(
channel thrust from -100.0 % to 100.0 % step 0.1 %
switch guard is safe | run | service
button nudge
delay late on nudge for 3 ticks
part pair(condition a, condition b)
  signal both = a and b
end
use inner = pair(nudge, late)
signal thrust_ = inner.both
)");
    const dsl::Model& model = *design.model;
    solver::Run run;
    for (int step = 0; step < 40; ++step) {
      run.inputs.push_back({step % 3 == 0 ? -1000 : step * 25 - 500, step / 7 % 3, step % 11 > 3});
    }
    const std::string text = cli::vcd_text(model, run);
    check_dump(model, run, read_vcd(text));
    if (const std::string other = through_fst(text); !other.empty()) check_same(read_vcd(text), other);
  }
}

TEST_CASE("the reader of dumps refuses what is damaged", "[export][vcd]") {
  const dsl::Compiled design = compiled_text("tick 20 ms\nbutton a\ncounter n up a from 0 to 9\n");
  const dsl::Model& model = *design.model;
  solver::Run run;
  for (int step = 0; step < 6; ++step) run.inputs.push_back({step % 2});
  const std::string good = cli::vcd_text(model, run);
  CHECK_NOTHROW(read_vcd(good));
  const auto with = [&](const std::string& from, const std::string& to) {
    std::string bad = good;
    const std::size_t place = bad.find(from);
    REQUIRE(place != std::string::npos);
    return bad.replace(place, from.size(), to);
  };
  CHECK_THROWS(read_vcd(with("$enddefinitions $end\n", "")));
  CHECK_THROWS(read_vcd(with("\n1!", "\n1~")));
  CHECK_THROWS(read_vcd(with("#20000", "#0")));
  CHECK_THROWS(read_vcd(with("$upscope $end\n", "")));
  CHECK_THROWS(read_vcd(with("$var integer 64 \"", "$var integer 64 !")));
}

}  // namespace detent::test
