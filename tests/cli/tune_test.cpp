// detent tune as a user meets it: what holds where, both sides of every edge, mistakes with their mends,
// JSON.
#include <fstream>
#include <functional>
#include <nlohmann/json.hpp>

#include "tests/cli/schema.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"
#include "tests/support/tuned.hpp"

namespace detent::test {
namespace {

using nlohmann::json;

json schema() {
  std::ifstream file(DETENT_SOURCE_DIR "/cli/tune.schema.json");
  return json::parse(file);
}

/// A lamp that blinks, and a picture every 8 ticks, the first at tick 3: at a half period of 4 ticks it is
/// lit in ticks 4 to 7 of 8 and never in a picture; at 1 and 2 ticks it is lit in every picture (counted by
/// hand; half periods from 1 to 12 by the loop below).
const std::string blinking = R"(tick 100 ms
tunable half = 300 ms from 100 ms to 1.2 s
stages lamp is dark | lit
  dark -> lit after half
  lit -> dark after half
stages camera is first | waiting | taking
  first -> taking after 300 ms
  taking -> waiting after 100 ms
  waiting -> taking after 700 ms
claim seen: possible camera is taking and lamp is lit
claim both_ways: possible camera is taking and lamp is dark
)";

std::string blinking_by_hand() {
  std::string letters;
  for (int half = 1; half <= 12; ++half) {
    bool lit = false, dark = false;
    for (int tick = 3; tick < 3 + 8 * 2 * half; tick += 8) {
      const bool is_lit = tick / half % 2 == 1;
      lit = lit || is_lit;
      dark = dark || !is_lit;
    }
    letters += lit && dark ? '+' : '-';
  }
  return letters;
}

/// The window must be open for 300 ms at least, and for less than 300 ms.
const std::string none_works = R"(tick 100 ms
tunable patience = 300 ms from 100 ms to 600 ms
button nudge
pulse window on nudge for patience
claim long_enough: window lasts at least 300 ms
claim short_enough: never window while previous(previous(previous(rises(nudge))))
)";

const std::string parts_and_levels = R"(tick 20 ms
include "steps.part"
tunable rest = -98.0 % from -99.5 % to -97 %
channel thrust from -100 % to 100 % step 1 %
button go
use steps = two_step(go, thrust)
claim at_rest: never steps.ok while thrust > rest
claim opens: possible steps.ok
)";
const std::string steps = R"(part two_step(condition press, level stick)
  tunable patience = 80 ms from 20 ms to 200 ms
  pulse window on press for patience
  signal ok = window and stick <= -98 %
  claim closes: window only within 80 ms after rises(press)
end
)";

}  // namespace

TEST_CASE("a value that holds may lie between values that fail") {
  CHECK(blinking_by_hand() == "--+-++++++++");
  const Tuned found = tuned(blinking, {"half"});
  CHECK(letters_of(found.study) == blinking_by_hand());
  CHECK(found.study.edges.size() == 3);
  for (const solver::PointFinding& one : found.study.report.points) {
    if (one.standing == solver::Standing::fails) CHECK(one.for_all_time);  // `possible` claims: no run at all
  }
}

TEST_CASE("where no value works, tuning says so, and shows the written one fail") {
  CHECK(letters_of(tuned(none_works, {"patience"}).study) == "------");
  const Folder folder;
  const ProcessResult result = run_detent({"tune", folder.write("none.detent", none_works)});
  CHECK(result.status == 1);
  CHECK(has(result.output, "At none of the 6 values do all claims hold. What is written fails."));
  CHECK(has(result.output, "As written, 300 ms:"));
  CHECK(has(result.output, "REFUTED by a run of"));
  CHECK_FALSE(has(result.output, "Edge"));
}

TEST_CASE("both sides of an edge are shown") {
  const Folder folder;
  const std::string text = R"(tick 100 ms
tunable patience "time to act" = 300 ms from 100 ms to 600 ms
button nudge
pulse window on nudge for patience
claim closes: window only within 400 ms after rises(nudge)
)";
  const ProcessResult result = run_detent({"tune", folder.write("edge.detent", text), "--statistics"});
  CHECK(result.status == 0);
  CHECK(has(result.output, "All claims hold at 5 of 6 values. What is written is one of them."));
  CHECK(has(result.output,
            "    100 ms to 500 ms  holds  5 values\n    600 ms            FAILS  1 value; closes\n"));
  CHECK(has(result.output,
            "Edge: all claims hold at 500 ms, and not at 600 ms.\n"
            "    500 ms: 1 claim proved in every run of any length"));
  CHECK(has(result.output, "    600 ms:\n\nREFUTED by a run of 6 ticks"));
}

TEST_CASE("tunables of parts, of included files and of levels with decimals") {
  const Folder folder;
  folder.write("steps.part", steps);
  const std::string file = folder.write("parts.detent", parts_and_levels);
  const ProcessResult result = run_detent({"tune", file});
  INFO(result.output);
  CHECK(result.status == 0);
  CHECK(has(result.output, "two_step.patience  "));
  // The window is on for `patience`, its last tick is patience - 20 ms after the nudge: 80 ms + 20 ms at
  // most.
  CHECK(has(result.output, "20 ms to 100 ms   holds  5 values"));
  CHECK(has(result.output, "120 ms to 200 ms  FAILS  5 values; steps.closes"));
  // The stick has steps of 1 %: only above -98 % - 1 % can it lie between `rest` and -98 %.
  CHECK(has(result.output, "in steps of 0.1 %: 26 values"));
  CHECK(has(result.output, "-99.5 % to -98.1 %  FAILS  15 values; at_rest"));
  CHECK(has(result.output, "-98 % to -97 %      holds  11 values"));
  const ProcessResult coarse = run_detent({"tune", file, "--only", "rest", "--step", "0.5 %"});
  CHECK(has(coarse.output, "-99.5 % to -98.5 %  FAILS  3 values; at_rest"));
  CHECK_FALSE(has(coarse.output, "patience"));
}

TEST_CASE("a value with which the text is wrong is no design") {
  const Folder folder;
  const std::string text = R"(tick 100 ms
tunable low = 1 from 0 to 6
button nudge
counter tries up nudge from low to 4
claim bounded: always tries <= 4
claim moves: possible tries == 3
)";
  const ProcessResult result = run_detent({"tune", folder.write("counter.detent", text)});
  INFO(result.output);
  CHECK(result.status == 0);
  CHECK(has(result.output, "0 to 3  holds      4 values"));
  CHECK(has(result.output, "no design"));
  CHECK(has(result.output, "line 4: "));
}

TEST_CASE("assumptions that contradict each other at some values make no claim hold there") {
  const Folder folder;
  const std::string text = R"(tick 100 ms
tunable least = 3 from 0 to 9
channel level from 0 to 9
assume high: always level >= least
assume low: always level <= 5
claim positive: always level >= 1
)";
  const ProcessResult result = run_detent({"tune", folder.write("assumed.detent", text)});
  INFO(result.output);
  CHECK(result.status == 0);
  CHECK(has(result.output, "0       FAILS   1 value; positive"));
  CHECK(has(result.output, "1 to 5  holds   5 values"));
  CHECK(has(result.output, "6 to 9  no run  4 values; the assumptions contradict each other"));
}

TEST_CASE("a step that leaves only the written value is no look at the range") {
  const std::string text =
      "tick 100 ms\ntunable wait = 2 s from 1 s to 3 s\nbutton a\npulse p on a for wait\nclaim c: p lasts at "
      "most wait\n";
  const ProcessResult wide = run_detent({"tune", "-", "--step", "10 h"}, {.input = text});
  CHECK(wide.status == 2);
  CHECK(has(wide.errors, "'10 h' leaves no value of 'wait' but the written one, 2 s"));
  CHECK(has(wide.errors, "1 s to 3 s"));
  CHECK(run_detent({"tune", "-", "--step", "1 s"}, {.input = text}).status != 2);
}

TEST_CASE("a value at which a claim says nothing is mentioned") {
  const std::string text =
      "tick 10 ms\ntunable t = 3 from 1 to 9\nbutton a\ncounter n up a from 0 to 5\n"
      "claim c: whenever n == t: not (n == 0)\nclaim d: never n == 6\n";
  const ProcessResult page = run_detent({"tune", "-"}, {.input = text});
  CHECK(page.status == 0);
  CHECK(has(page.output, "c says nothing at 4 of these values, the first 6, the last 9"));
  const json document = json::parse(run_detent({"tune", "-", "--format", "json"}, {.input = text}).output);
  for (const std::string& complaint : schema_complaints(schema(), document)) FAIL_CHECK(complaint);
  const json& points = document["studies"][0]["points"];
  for (std::size_t point = 0; point < points.size(); ++point) {
    CHECK(points[point].contains("vacuous") == (point + 1 > 5));  // the count goes up to 5
  }
}

TEST_CASE("mistakes of a user of tune name the mend") {
  const Folder folder;
  const std::string none = folder.write("none.detent", "tick 20 ms\nbutton go\nclaim c: possible go\n");
  check_refused({"tune", none}, "no tunables", "tunable patience = 8 s from 1 s to 15 s");
  const std::string silent = folder.write(
      "silent.detent", "tick 20 ms\ntunable t = 1 s from 0 s to 2 s\nbutton go\npulse p on go for t\n");
  check_refused({"tune", silent}, "claims nothing", "claim NAME");
  const std::string file = folder.write("works.detent", none_works);
  check_refused({"tune", file, "--only", "patienc"}, "no tunable is called 'patienc'",
                "did you mean 'patience'?");
  check_refused({"tune", file, "--together", "patience", "patience"}, "named twice", "two tunables");
  check_refused({"tune", file, "--together", "patience"}, "--together", "--together patience rest");
  check_refused({"tune", file, "--only", "patience", "--together", "patience", "rest"}, "don't go together",
                "leave out one");
  for (const char* step : {"5 %", "10 ms", "0 ms", "-1 s", "fast", "150 ms"}) {
    check_refused({"tune", file, "--step", step}, "--step", "100 ms");
  }
  const std::string wide = folder.write("wide.detent", replaced(none_works, "to 600 ms", "to 2 h"));
  check_refused({"tune", wide}, "would be 72000 values", "--step");
  const std::string broken =
      folder.write("broken.detent", replaced(none_works, "for patience", "for patienc"));
  const ProcessResult result = run_detent({"tune", broken});
  CHECK(result.status == 2);
  CHECK(has(result.errors, "did you mean 'patience'?"));
}

TEST_CASE("what a limit leaves open is undecided, and never guessed") {
  const Folder folder;
  const std::string file = folder.write("limits.detent", blinking);
  const ProcessResult result = run_detent({"tune", file, "--timeout", "1ms", "--format", "json"});
  const json study = json::parse(result.output)["studies"][0];
  for (const std::string& complaint : schema_complaints(schema(), json::parse(result.output)))
    FAIL_CHECK(complaint);
  const std::string truth = blinking_by_hand();
  std::size_t open = 0;
  for (std::size_t index = 0; index < truth.size(); ++index) {
    const std::string standing = study["points"][index]["standing"];
    if (standing == "undecided") {
      ++open;
      CHECK(study["points"][index]["limit"] != "none");
    } else {
      CHECK(standing == (truth[index] == '+' ? "holds" : "fails"));
    }
  }
  if (open > 0 && study["written"]["standing"] != "fails") CHECK(result.status == 3);
}

TEST_CASE("an interrupted tune tells what is known") {
  const Folder folder;
  const std::string text = replaced(none_works, "tick 100 ms", "tick 1 ms");
  const ProcessResult result =
      run_detent({"tune", folder.write("long.detent", text), "--format", "json", "--jobs", "1"},
                 {.interrupt_after = std::chrono::milliseconds(400)});
  const json document = json::parse(result.output);
  for (const std::string& complaint : schema_complaints(schema(), document)) FAIL_CHECK(complaint);
  CHECK((result.status == 1 || result.status == 3));
  CHECK(document["studies"][0]["points"].size() == 501);
}

TEST_CASE("the report of tune for programs obeys its schema") {
  const Folder folder;
  for (const std::string& text : {blinking, none_works}) {
    const ProcessResult result = run_detent({"tune", folder.write("one.detent", text), "--format", "json"});
    const json document = json::parse(result.output);
    for (const std::string& complaint : schema_complaints(schema(), document)) FAIL_CHECK(complaint);
    CHECK(document["exit_status"] == result.status);
  }
  const json two = json::parse(run_detent({"tune", DETENT_SOURCE_DIR "/specs/horn/horn.detent", "--together",
                                           "warning", "half", "--format", "json"})
                                   .output);
  for (const std::string& complaint : schema_complaints(schema(), two)) FAIL_CHECK(complaint);
  CHECK(two["studies"][0]["points"].size() == 30 * 12);
  const json broken = json::parse(
      run_detent({"tune", folder.write("broken.detent", "tick 5 parsecs"), "--format", "json"}).output);
  for (const std::string& complaint : schema_complaints(schema(), broken)) FAIL_CHECK(complaint);
  CHECK(broken["exit_status"] == 2);
  json bad = two;
  bad["studies"][0]["points"][0]["standing"] = "perhaps";
  CHECK_FALSE(schema_complaints(schema(), bad).empty());
}

TEST_CASE("two together: a table and a picture that can be read without colour") {
  const ProcessResult result =
      run_detent({"tune", DETENT_SOURCE_DIR "/specs/horn/horn.detent", "--together", "warning", "half"});
  INFO(result.output);
  CHECK(result.status == 0);
  // The two look at nothing in common, so the region is what each allows by itself.
  CHECK(has(result.output, "All claims hold at 72 of 360 pairs."));
  CHECK(has(result.output, "    500 ms to 1.2 s   300 ms and 500 ms to 1.2 s\n"));
  CHECK(has(result.output, "1.3 s  ............\n"));
  CHECK(has(result.output, "800 ms  ..W.OOOOOOOO\n"));
}

}  // namespace detent::test
