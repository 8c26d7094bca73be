// Designs by hand: commands, what is refused, undo, and files that are read back.
#include <fmt/format.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/step_command.hpp"
#include "cli/step_completion.hpp"
#include "cli/step_session.hpp"
#include "cli/time_text.hpp"
#include "tests/cli/sample.hpp"
#include "tests/cli/schema.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chance.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"

namespace detent::test {
namespace {

using cli::Passage;
using cli::Session;
using dsl::Value;

ProcessResult step(const std::string& design, const std::string& commands,
                   std::vector<std::string> more = {}) {
  more.insert(more.begin(), {"step", design});
  return run_detent(more, {.input = commands});
}

const char* const tools = R"(design "Tools"
tick 20 ms
channel thrust from -100 % to 100 % step 1 % moving at most 400 % per s
switch guard is safe | half | run
button stop
button next
link radio carries thrust lost: thrust -100 %
at power_up: not stop
assume one_thumb "guard and stop are under one thumb": never guard is run and stop
assume short_stop "nobody holds stop for long": stop lasts at most 200 ms
latch live set guard is run and next reset stop
output jet = thrust when live else -100 %
claim never_fast: always jet <= 50 %
claim can_go: possible live
)";

const std::string kept_alive = DETENT_SOURCE_DIR "/specs/boat/flaw_window_kept_alive.detent";

}  // namespace

TEST_CASE("a window that is kept alive, by hand") {
  const ProcessResult result = step(kept_alive, R"(thrust -100 %  // the stick at its stop
power on; 500 ms
rudder -100 %
until window_closes breaks
claims
)");
  INFO(result.output << result.errors);
  CHECK(result.status == 0);
  CHECK(result.errors.empty());
  CHECK(has(result.output, "You move rudder to -100 %."));
  CHECK(has(result.output, "The design: nudge goes on and window goes on."));
  CHECK(has(result.output, "BROKEN at 3.6 s  window_closes  line 34"));
  CHECK(has(result.output, "\"The time for step two runs out, even if the rudder stick is still held.\""));
  CHECK(has(result.output, "(3 s) after nudge goes on; that was last so at 0.55 s (tick 11), which is"));
}

TEST_CASE("the run of a violation is played step by step, and its file says the same") {
  const Folder folder;
  const std::string run = folder.write("x", "") + ".run";
  const ProcessResult result =
      step(kept_alive, fmt::format("next; next\n1 tick\nrest\nsave {}\nsave {}.csv\n", run, run),
           {"--claim", "window_closes"});
  INFO(result.output << result.errors);
  REQUIRE(result.status == 0);
  CHECK(has(result.output, "you stand before its first step"));
  CHECK(has(result.output, "BROKEN at 3.55 s  window_closes"));
  const ProcessResult check = run_detent({"check", kept_alive, "--run", run});
  CHECK(check.status == 1);
  CHECK(has(check.output, "BROKEN at 3.55 s (tick 71)  window_closes"));
  CHECK(has(check.output, "Not done, which is no fault of a single run: can_go_live"));
  const ProcessResult json = run_detent({"check", kept_alive, "--run", run, "--format", "json"});
  std::ifstream schema(DETENT_SOURCE_DIR "/cli/run.schema.json");
  for (const std::string& complaint :
       schema_complaints(nlohmann::json::parse(schema), nlohmann::json::parse(json.output)))
    FAIL_CHECK(complaint);
  CHECK(run_detent({"check", kept_alive, "--run", run, "--claim", "two_steps"}).status == 0);
  CHECK(has(run_detent({"replay", kept_alive, run + ".csv"}).output, "The same in the whole log: jet"));
  // The run that --evidence writes is the same one.
  const std::string proofs = run + ".proofs";
  CHECK(run_detent({"check", kept_alive, "--claim", "window_closes", "--evidence", proofs}).status == 1);
  const ProcessResult evidence =
      run_detent({"check", kept_alive, "--run", proofs + "/window_closes.run.json"});
  CHECK(evidence.status == 1);
  CHECK(has(evidence.output, "BROKEN at 3.55 s (tick 71)  window_closes"));
  CHECK(has(step(kept_alive, "load " + proofs + "/window_closes.run.json\nrest").output,
            "BROKEN at 3.55 s  window_closes"));
}

TEST_CASE("a claim that is proved has no run to stand before") {
  const ProcessResult result =
      step(DETENT_SOURCE_DIR "/specs/boat/pump_jet.detent", "show\n", {"--claim", "window_closes"});
  CHECK(result.status == 0);
  CHECK(has(result.output, "proved, in every run of any length"));
  CHECK(has(result.output, "Before power-up"));
}

TEST_CASE("eight hours pass at once") {
  const ProcessResult result =
      step(DETENT_SOURCE_DIR "/specs/boat/pump_jet.detent", "power on; 8 h\nshow", {});
  CHECK(result.status == 0);
  CHECK(has(result.output, "28800 s, tick 576000"));
}

TEST_CASE("what the design takes for granted is refused, and nothing has changed") {
  const Folder folder;
  const std::string design = folder.write("tools.detent", tools);
  CHECK(has(step(design, "stop pressed; power on").errors,
            "power never comes on like this: at power-up, not stop (line 8)"));
  CHECK(has(step(design, "power on; guard run; stop pressed").errors,
            "one_thumb, \"guard and stop are under one thumb\" (line 9)"));
  const ProcessResult halted = step(design, "power on; stop pressed; 1 s; show; stop released; 1 s");
  CHECK(halted.status == 0);
  CHECK(has(halted.output, "HALTED"));
  CHECK(has(halted.output, "0.2 s, tick 10\n"));
  CHECK(has(halted.output, "You release stop."));
  const ProcessResult ramp =
      step(design, "thrust 0; guard run; power on; thrust 60; until thrust is 60 %; next pressed");
  CHECK(ramp.status == 0);
  CHECK(has(ramp.output, "thrust is on its way to 60 %"));
  CHECK(has(ramp.output, "0.18 s, tick 9  You press next."));  // 60 % at 8 % a tick: there in the eighth
  CHECK(has(ramp.output, "BROKEN at 0.18 s  never_fast"));
  CHECK(has(ramp.output, "DONE at 0.18 s  can_go"));
  const std::string bad = folder.write("bad.run", "at 1 s guard run\nat 2 s stop pressed\n");
  const ProcessResult check = run_detent({"check", design, "--run", bad});
  CHECK(check.status == 2);
  CHECK(has(check.errors, "at 2 s, tick 100"));
}

TEST_CASE("commands that can't be done end a script with the line and the mend") {
  struct Row {
    const char* commands;
    const char* what;
    const char* mend;
  };
  const Folder folder;
  const std::string design = folder.write("tools.detent", tools);
  const std::string there = folder.write("there.run", "kept");
  for (const Row& row : std::initializer_list<Row>{
           {"frobnicate", "line 1: 'frobnicate' is no input and no command", "help lists"},
           {"\n\nshwo", "line 3: 'shwo' is no input", "did you mean 'show'"},
           {"thrust", "thrust is to be what?", "thrust 0 %"},
           {"guard", "guard is to be what?", "guard safe"},
           {"thrust 1e400 %", "'1e400 %' is no plain number", "without an exponent"},
           {"thrust 1e9", "'1e9' is no plain number", "without an exponent"},
           {"until never_fast breaks within", "within which time?", "within 5 s"},
           {"thrust 101 %", "no such level", "-100 % to 100 %"},
           {"thrust 40 V", "another unit", "-100 %"},
           {"thrust nan", "is no level of thrust", "-100 %"},
           {"thrust 99999999999999999999999 %", "beyond every level", ""},
           {"guard rnu", "guard is never 'rnu'", "did you mean 'run'"},
           {"guard run, guard safe", "moved twice", ""},
           {"guard run,", "movement is missing", ""},
           {"jet 4 %", "'jet' is no input and no command", ""},
           {"30 ms", "not a whole number of ticks", "20 ms or 40 ms"},
           {"1", "'1' is no time", "unit"},
           {"999999999 h", "longer than a run may be", ""},
           {"power on; 276 h; 276 h", "a session holds at most", "less time"},
           {"power off", "power can only come on", "restart"},
           {"power on; power on", "power is on already", "restart"},
           {"until", "until what?", "until live changes"},
           {"until lvie changes", "nothing is called 'lvie'", "did you mean 'live'"},
           {"until live", "until live does what?", "until live is on"},
           {"until live is maybe", "live is never 'maybe'", "off, on"},
           {"until live >= 3", "live is no level", "until live is on"},
           {"until nothing breaks", "no claim is called 'nothing'", "the claims are"},
           {"until live changes within soon", "'soon' is no time", "within 5 s"},
           {"power on; until live changes", "that would never come", "move something"},
           {"undo", "nothing was done that could be undone", ""},
           {"redo", "nothing was undone", ""},
           {"undo x", "'x' is no number of steps", "undo 3"},
           {"violation nope", "no claim is called 'nope'", "the claims are"},
           {"show nope", "nothing is called 'nope'", ""},
           {"diagram", "nothing was done yet", ""},
           {"next", "no run is loaded", "violation CLAIM"},
           {"save a.run", "nothing was done yet", "power on"},
           {"power on; save a.txt", "says not what it is to hold", "NAME.run"},
           {"power on; save /nowhere/a.run", "can't be written", "folder"},
           {"load /nowhere/a.run", "can't be read", "spelling"},
           {"load /nowhere/a.txt", "says not what", "load NAME.run"},
           {"claims now", "'now' is one word too many", "leave it out"},
           {"1 s 2 s", "one word too many", "part commands"},
       }) {
    const ProcessResult result = step(design, row.commands);
    INFO(row.commands << '\n' << result.errors);
    CHECK(result.status == 2);
    CHECK(has(result.errors, row.what));
    CHECK(has(result.errors, row.mend));
  }
  const ProcessResult kept = step(design, "power on; save " + there);
  CHECK(kept.status == 2);
  CHECK(has(kept.errors, "is there already"));
  std::ifstream file(there);
  std::string text;
  std::getline(file, text);
  CHECK(text == "kept");
  CHECK(step(design, "power on; save over " + there).status == 0);
  for (const std::string& hostile :
       {std::string("\0\0\0", 3), std::string("thrust \xFF\xFE"), std::string(1'000'000, 'x'),
        std::string(100'000, ','), "until " + std::string(60'000, '('), std::string("\x1b[2J")}) {
    const ProcessResult result = step(design, hostile);
    CHECK(result.status == 2);
    CHECK(result.errors.find('\x1b') == std::string::npos);
    CHECK(result.errors.size() < 1'000);
  }
}

TEST_CASE("no command at all is a good end; so is a reader that goes away") {
  const Folder folder;
  const std::string design = folder.write("tools.detent", tools);
  CHECK(step(design, "").status == 0);
  CHECK(step(design, "\n\n// nothing\n;;\n").status == 0);
  CHECK(step(design, "quit\nfrobnicate").status == 0);
  CHECK(step(design, "power on").status == 0);  // no line end
  CHECK(run_shell("(echo power on; echo 8 h; sleep 1; yes '20 ms' | head -2000) | $DETENT step " + design +
                  " | head -1")
            .errors.empty());
  CHECK(run_detent({"step", "-"}).status == 2);
  CHECK(run_detent({"step", design, "--claim", "nope"}).status == 2);
  const auto ends = [&](const std::string& streams, const char* what, const ProcessWishes& wishes = {}) {
    const ProcessResult result = run_shell("$DETENT step " + design + streams, wishes);
    INFO(streams << '\n' << result.errors);
    CHECK(result.status == 2);
    CHECK(has(result.errors, what));
    CHECK(has(result.errors, "mend:"));
  };
  ends(" <&-", "standard input: it is closed");
  ends(" < /", "standard input: Is a directory");
  ends(" >&-", "standard output: it is closed", {.input = "power on"});
  ends(" >/dev/full", "standard output: No space left", {.input = "power on"});
  // What lies beyond a limit is refused, not left out.
  ends("", "line 2: the line is longer than 64 KiB",
       {.input = "power on\n" + std::string(65'537, ' ') + "frobnicate\n"});
  CHECK(step(design, std::string(65'528, ' ') + "power on\n").status == 0);
}

TEST_CASE("time before power-up, and what is said of time in which nothing changes") {
  const std::string boat = DETENT_SOURCE_DIR "/specs/boat/pump_jet.detent";
  const ProcessResult in_time = step(boat, "thrust -100 %\nuntil settled is on within 500 ms\n");
  CHECK(has(in_time.output, "settled goes on"));
  CHECK_FALSE(has(in_time.output, "has not come"));
  CHECK(has(step(boat, "thrust -100 %\nuntil settled is on within 450 ms\n").output, "has not come"));
  const ProcessResult later = step(boat, "thrust -100 %\n450 ms\n50 ms\n");
  CHECK(has(later.output, "nothing changes up to 0.45 s"));
  CHECK(has(later.output, "0.5 s, tick 10  The design: settled goes on."));
}

TEST_CASE("where a design leaves it open, edges count at power-up, for every command, and that is said") {
  const Folder folder;
  const std::string design = folder.write("either.detent", R"(tick 20 ms
power_up edges either
button key
latch seen set rises(key) reset not key
output lamp = seen
claim dark: never lamp
)");
  const std::string held = folder.write("a.run", "at 0 s key pressed\nend 1 s\n");
  const ProcessResult run = run_detent({"check", design, "--run", held});
  CHECK(run.status == 1);
  CHECK(has(run.output, "in this run they are"));
  const std::string other = folder.write("b.run", "at 0 s key pressed, edges at power-up ignored\nend 1 s\n");
  CHECK(run_detent({"check", design, "--run", other}).status == 0);
  const ProcessResult stepped = step(design, "key pressed; power on");
  CHECK(has(stepped.output, "leaves open whether edges at power-up count"));
  CHECK(has(stepped.output, "BROKEN at 0 s  dark"));
  CHECK_FALSE(has(step(design, "key pressed, edges at power-up ignored; power on").output, "BROKEN"));
  const std::string log = folder.write("a.csv", "time s,key,lamp\n0,pressed,on\n1,pressed,on\n");
  CHECK(has(run_detent({"replay", design, log}).output, "The same in the whole log: lamp"));
}

TEST_CASE("a run as JSON says its tick, and is refused by a design with another") {
  const Folder folder;
  const std::string proofs = folder.write("x", "") + ".proofs";
  CHECK(run_detent({"check", kept_alive, "--claim", "window_closes", "--evidence", proofs}).status == 1);
  std::ifstream stream(proofs + "/window_closes.run.json");
  nlohmann::json run = nlohmann::json::parse(stream);
  CHECK(run["tick_us"] == 50'000);
  run["tick_us"] = 20'000;
  const ProcessResult other =
      run_detent({"check", kept_alive, "--run", folder.write("a.run.json", run.dump())});
  CHECK(other.status == 2);
  CHECK(has(other.errors, "'tick_us' 20000"));
  run.erase("tick_us");
  const ProcessResult none =
      run_detent({"check", kept_alive, "--run", folder.write("b.run.json", run.dump())});
  CHECK(none.status == 1);
  CHECK(has(none.output, "does not say for which tick"));
  CHECK(has(run_detent({"check", kept_alive, "--run", folder.write("c.run.json", "")}).errors, "JSON"));
}

TEST_CASE("the way to see a saved file again can be given to a shell") {
  const Folder folder;
  const std::string design = folder.write("it's.detent", tools);
  const ProcessResult result = step(design, "power on; save " + folder.write("x", "") + ".my run.run");
  INFO(result.output);
  CHECK(has(result.output, "it'\\''s.detent'"));
  CHECK(has(result.output, "my run.run'"));
}

TEST_CASE("a step takes no longer for all that was done before") {
  const Folder folder;
  const std::string design =
      folder.write("key.detent", "tick 20 ms\nbutton key\noutput lamp = key\nclaim can: possible lamp\n");
  std::string commands = "power on\n";
  for (int i = 0; i < 20'000; ++i) commands += "key pressed; key released\n";
  // Half a second here; a minute where every step copies what was before.
  const ProcessResult result =
      run_detent({"step", design}, {.input = commands, .limit = std::chrono::seconds(20)});
  CHECK(result.status == 0);
}

TEST_CASE("a button may be called like a command") {
  const Folder folder;
  const std::string design = folder.write("tools.detent", tools);
  const ProcessResult result = step(design, "power on; next pressed");
  CHECK(result.status == 0);
  CHECK(has(result.output, "You press next."));
}

TEST_CASE("undo and redo lead to the very same places") {
  const dsl::Compiled compiled_tools = compiled_text(tools);
  const dsl::Model& model = *compiled_tools.model;
  for (std::uint64_t seed = 0; seed < 20; ++seed) {
    Chance chance(seed);
    Session session(compiled_tools);
    std::vector<std::string> done;
    const std::vector<std::string> lines{"guard run",    "guard safe",    "next pressed", "next released",
                                         "stop pressed", "stop released", "thrust 70",    "thrust -20",
                                         "radio lost",   "radio there"};
    const auto act = [&](Session& on, const std::string& line) {
      if (line == "restart") return on.restart(), true;
      if (line == "time") return !std::holds_alternative<cli::Refusal>(on.go({}, 7));
      const auto moves = cli::read_moves(model, line);
      if (on.powered()) return !std::holds_alternative<cli::Refusal>(on.go(*moves.value, 1));
      return on.place(*moves.value), true;
    };
    const auto afresh = [&] {
      Session twin(compiled_tools);
      for (const std::string& line : done) REQUIRE(act(twin, line));
      return twin.run();
    };
    for (int i = 0; i < 30; ++i) {
      const std::string line = chance.one_in(12) ? "restart" : chance.one_in(2) ? "time" : chance.pick(lines);
      if (act(session, line)) done.push_back(line);
    }
    const auto all = done;
    Value ticks = session.tick();
    const auto run = session.run();
    std::size_t back = 0;
    while (session.undo()) {
      ++back;
      done.pop_back();
      CHECK(session.run() == afresh());
    }
    CHECK(back == all.size());
    CHECK_FALSE(session.powered());
    while (session.redo()) --back;
    CHECK(back == 0);
    CHECK(session.tick() == ticks);
    CHECK(session.run() == run);
  }
}

TEST_CASE("what is typed is completed") {
  const dsl::Compiled boat = compiled_text(boat_text());
  const auto words = [&](const char* typed) { return cli::complete(*boat.model, typed).words; };
  using Words = std::vector<std::string>;
  CHECK(words("thr") == Words{"thrust"});
  CHECK(words("guard ") == Words{"run", "safe"});
  CHECK(words("guard to r") == Words{"run"});
  CHECK(words("guard run, nu") == Words{"nudge"});
  CHECK(words("guard run; vio") == Words{"violation"});
  CHECK(words("violation in_") == Words{"in_time"});
  CHECK(words("until win") == Words{"window"});
  CHECK(words("until window ") == Words{"changes", "is", "off", "on"});
  CHECK(words("until window is o") == Words{"off", "on"});
  CHECK(words("until window is ") == Words{"changes", "is", "off", "on"});
  CHECK(words("until a c") == Words{"a claim breaks"});
  CHECK(words("zzz").empty());
  CHECK(cli::complete(*boat.model, "guard run, nu").part == "nu");
  CHECK(words("").size() > 15);
}

TEST_CASE("at a terminal: prompt, completion, history, Ctrl-C") {
  if (run_shell("command -v script").status != 0) {
    WARN("there is no program 'script' here to make a terminal with, so this is not checked");
    return;
  }
  const Folder folder;
  const std::string design = folder.write("tools.detent", tools);
  // Keys one by one, as a person types them; \t completes, \020 is Ctrl-P (the line before), \003 is Ctrl-C.
  const std::string keys =
      "for k in g u a '\\t' r u n '\\n' p o w e r ' ' o n '\\n' '\\020' '\\020' '\\n' a b c '\\003' '\\003'; "
      "do printf \"$k\"; sleep 0.05; done; sleep 1";
  const ProcessResult result = run_shell("(sleep 1; " + keys + ") | TERM=xterm XDG_STATE_HOME=" + design +
                                             ".state script -qec \"$DETENT step " + design +
                                             "\" /dev/null; "
                                             "cat " +
                                             design + ".state/detent/history",
                                         {.environment = {{"LC_ALL", "C.UTF-8"}, {"SHELL", "/bin/sh"}}});
  INFO(result.output << result.errors);
  CHECK(has(result.output, "off> "));
  CHECK(has(result.output, "0 s> "));
  CHECK(has(result.output, "guard run"));
  CHECK(has(result.output, "power on"));
}

}  // namespace detent::test
