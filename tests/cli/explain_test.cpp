// detent check --explain as a user meets it. That its SMT-LIB is what the evidence has is checked for every
// shipped design in tests/specs/explain_test.cpp.
#include "tests/support/catch.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"

namespace detent::test {
namespace {

const char* const winch =
    "design \"Winch\"\n"
    "tick 50 ms\n"
    "button go\n"
    "button stop\n"
    "button horn\n"
    "latch pulling set go reset stop\n"
    "pulse window on go for 200 ms\n"
    "output drum = pulling\n"
    "output lamp = horn or window\n"
    "claim stop_stops \"Stop stops.\": whenever stop: not drum\n"
    "claim can_pull: possible drum\n"
    "claim short: lamp only within 150 ms after rises(go)\n";

struct Explained {
  Folder folder;
  std::string file = folder.write("winch.detent", winch);
  ProcessResult of(const std::string& claim) const {
    return run_detent({"check", file, "--claim", claim, "--explain"});
  }
};

}  // namespace

TEST_CASE("--explain shows lines, words and SMT-LIB of what the claim looks at, and of nothing else") {
  const Explained winch_file;
  const ProcessResult result = winch_file.of("stop_stops");
  INFO(result.output);
  CHECK(result.status == 0);
  CHECK(result.errors.empty());
  const std::string words =
      "\nline 6  latch pulling set go reset stop\n  pulling is on if this is true: go. It is off";
  CHECK(has(result.output, words));
  CHECK(has(result.output, "  | (declare-fun |stop@0| () Bool)\n"));
  CHECK(has(result.output, "  | (assert (= |before: pulling (0)@0| false))\n"));
  CHECK(has(result.output, "  | (assert |broken: stop_stops@0|)\n"));
  CHECK(has(result.output, "line 10  claim stop_stops"));
  CHECK(has(result.output, "Why it is so for all time"));
  CHECK(has(result.output, "blade or propeller off on the bench"));
  for (const char* other : {"horn", "lamp", "window"}) CHECK_FALSE(has(result.output, other));
  // Words come before the formula that they are about.
  CHECK(result.output.find("stop may be pressed") < result.output.find("(declare-fun |stop@0|"));
}

TEST_CASE("--explain of a claim that a run breaks or shows says so, and has no proof to show") {
  const Explained winch_file;
  const ProcessResult refuted = winch_file.of("short");
  CHECK(refuted.status == 1);
  CHECK(has(refuted.output, "REFUTED by a run"));
  CHECK(has(refuted.output, "No proof is there to show, because a run was found"));
  CHECK(has(refuted.output, "  | (assert |broken: short@0|)\n"));
  CHECK(has(refuted.output, "Then it is on for 4 ticks (200 ms)"));
  CHECK_FALSE(has(refuted.output, "Three questions"));
  const ProcessResult shown = winch_file.of("can_pull");
  CHECK(shown.status == 0);
  CHECK(has(shown.output, "What is looked for is a tick in which this is true: drum"));
}

TEST_CASE("--explain is told what it can't do, with the mend") {
  const Explained winch_file;
  const auto refused = [&](const std::vector<std::string>& more, const std::string& what,
                           const std::string& mend) {
    std::vector<std::string> words{"check", winch_file.file, "--explain"};
    words.insert(words.end(), more.begin(), more.end());
    check_refused(words, what, mend);
  };
  refused({}, "one claim at a time", "--claim");
  refused({"--claim", "short", "--claim", "can_pull"}, "one claim at a time", "--claim");
  refused({"--claim", "shrt"}, "shrt", "short");
  refused({"--claim", "short", "--within", "1 s"}, "every run of any length", "leave out --within");
  refused({"--claim", "short", "--format", "json"}, "for people to read", "--format json");
}

TEST_CASE("--explain in a closed or full stream, and of contradicting assumptions, ends as a check does") {
  const Explained winch_file;
  const std::string command = "$DETENT check " + winch_file.file + " --claim short --explain";
  CHECK(run_shell(command + " >&-").status != 0);
  CHECK(run_shell(command + " | head -n 1").errors.empty());
  const std::string file = winch_file.folder.write(
      "none.detent",
      "tick 20 ms\nbutton b\nassume x: always b\nassume y: never b\nclaim c: never b while not b\n");
  const ProcessResult none = run_detent({"check", file, "--claim", "c", "--explain"});
  CHECK(none.status == 2);
  CHECK(none.output.empty());
}

}  // namespace detent::test
