// detent lesson as a learner meets it: with answers from a pipe, with none, with wrong ones, and with streams
// that are closed; its designs as files; a design of one's own held against it; and texts that are no lesson.
#include <filesystem>
#include <fstream>
#include <sstream>

#include "cli/lesson.hpp"
#include "cli/lesson_judge.hpp"
#include "cli/lesson_shelf.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"

namespace detent::test {
namespace {

namespace fs = std::filesystem;

std::size_t count_of(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++count;
  return count;
}

ProcessResult give(const std::string& lesson, const std::string& answers) {
  return run_detent({"lesson", lesson}, {.input = answers});
}

std::string text_of(const std::string& path) {
  std::ostringstream text;
  text << std::ifstream(path, std::ios::binary).rdbuf();
  return text.str();
}

/// The last design of a lesson, with some text put behind it.
std::string last_design(std::size_t number, const std::string& more = "") {
  const auto shelf = cli::shelved_lessons();
  const auto read = cli::read_lesson(shelf.at(number - 1).text);
  return std::get<cli::Lesson>(read).designs.back().text + more;
}

std::string replaced(std::string text, const std::string& old, const std::string& by) {
  const std::size_t at = text.find(old);
  REQUIRE(at != std::string::npos);
  return text.replace(at, old.size(), by);
}

}  // namespace

TEST_CASE("detent lesson lists every lesson, and what to begin with") {
  const ProcessResult result = run_detent({"lesson"});
  CHECK(result.status == 0);
  CHECK(result.errors.empty());
  for (const cli::ShelvedLesson& one : cli::shelved_lessons())
    CHECK(has(result.output, "\n  " + std::to_string(one.number) + "  " + one.name + " "));
  CHECK(has(result.output, "Begin with: detent lesson 1\n"));
  std::istringstream lines(result.output + run_detent({"lesson", "--help"}).output);
  for (std::string line; std::getline(lines, line);) CHECK(line.size() <= 80);
}

TEST_CASE("Every lesson goes through with answers from a pipe, and holds them beside the machine's") {
  for (const cli::ShelvedLesson& one : cli::shelved_lessons()) {
    INFO(one.name);
    const auto lesson = std::get<cli::Lesson>(cli::read_lesson(one.text));
    std::string answers;
    std::size_t choices = 0;
    for (const cli::LessonStep& step : lesson.steps) {
      const auto* question = std::get_if<cli::LessonQuestion>(&step);
      if (question == nullptr) continue;
      choices += question->choices.empty() ? 0 : 1;
      answers += question->choices.empty() ? "my own words\n" : "1\n";
    }
    const ProcessResult result = give(std::to_string(one.number), answers);
    CHECK(result.status == 0);
    CHECK(result.errors.empty());
    CHECK(count_of(result.output, "  You:      ") == choices);
    CHECK(count_of(result.output, "  Machine:  ") == choices);
    CHECK(result.output.find("Your answer (1 to") < result.output.find("  Machine:  "));
    CHECK(has(result.output, "my own words"));
    CHECK_FALSE(has(result.output, "nobody answers"));
    CHECK(has(result.output, "You and the machine agreed in "));
    CHECK(has(result.output, "blade or propeller off on the bench"));
    CHECK(has(result.output, "proved, in every run of any length"));
    // What --all-at-once shows is the same without the answers.
    const ProcessResult all = run_detent({"lesson", one.name, "--all-at-once"});
    CHECK(all.status == 0);
    CHECK(all.errors.empty());
    CHECK_FALSE(has(all.output, "Your answer"));
    CHECK_FALSE(has(all.output, "  You:"));
    CHECK(count_of(all.output, "  Machine:  ") == choices);
  }
}

TEST_CASE("A lesson says whether the learner and the machine agree, whichever of them is right") {
  const std::string yes = give("1", "2\n").output;
  CHECK(has(yes, "You agree."));
  CHECK(has(yes, "agreed in 1 of 1 question."));
  const std::string no = give("1", "1\n").output;
  CHECK(has(no, "You do not agree."));
  CHECK(has(no, "agreed in 0 of 1 question."));
}

TEST_CASE("Where nobody answers, a lesson goes on without asking; a wrong answer is asked for again") {
  const ProcessResult none = give("5", "");
  CHECK(none.status == 0);
  CHECK(count_of(none.output, "nobody answers") == 1);
  CHECK(has(none.output, "The second mend"));
  const ProcessResult wrong = give("1", "7\nyes\n-1\n1 2\n99999999999999999999\n2\n");
  CHECK(wrong.status == 0);
  CHECK(count_of(wrong.output, "Write one of the numbers 1 to 2, or nothing.") == 5);
  CHECK(has(wrong.output, "You agree."));
  const ProcessResult idea = give("1", "\n\n");
  CHECK_FALSE(has(idea.output, "  You:"));
  CHECK_FALSE(has(idea.output, "nobody answers"));
  const ProcessResult last_without_end = give("1", "2");
  CHECK(has(last_without_end.output, "You agree."));
  const ProcessResult stopped = give("1", "q\n");
  CHECK(stopped.status == 0);
  CHECK(has(stopped.output, "Stopped."));
  CHECK_FALSE(has(stopped.output, "Machine:"));
}

TEST_CASE("Hostile answers do no harm") {
  const std::string long_line(200'000, 'x');
  const ProcessResult huge = give("1", long_line + "\n2\n" + long_line + "\n");
  CHECK(huge.status == 0);
  CHECK(has(huge.output, "You agree."));
  CHECK(huge.output.size() < 30'000);
  const ProcessResult escape = give("1", std::string("\x1b[2J\0\xff\n2\n\x1b]0;title\x07\n", 20));
  CHECK(escape.status == 0);
  CHECK_FALSE(has(escape.output, "\x1b"));
}

TEST_CASE("Closed and full streams end a lesson as they should") {
  const ProcessResult no_input = run_shell("$DETENT lesson 1 <&-");
  CHECK(no_input.status == 0);
  CHECK(has(no_input.output, "nobody answers"));
  const ProcessResult no_output = run_shell("$DETENT lesson 1 </dev/null >&-");
  CHECK(no_output.status == 2);
  CHECK(has(no_output.errors, "standard output"));
  const ProcessResult full = run_shell("$DETENT lesson 1 </dev/null >/dev/full");
  CHECK(full.status == 2);
  CHECK(has(full.errors, "standard output"));
  const ProcessResult gone = run_shell("$DETENT lesson 6 </dev/null | head -n 1");
  CHECK(gone.status == 0);
  CHECK(gone.errors.empty());
  CHECK(has(gone.output, "Why for ever"));
}

TEST_CASE("Names that are no lesson are refused with the mend") {
  check_refused({"lesson", "windw"}, "there is no lesson 'windw'", "did you mean 'window'?");
  check_refused({"lesson", "0"}, "there is no lesson '0'", "from 1 to 9");
  check_refused({"lesson", "10"}, "there is no lesson '10'", "from 1 to 9");
  check_refused({"lesson", "01"}, "there is no lesson '01'", "detent lesson lists them");
  check_refused({"lesson", ""}, "there is no lesson ''", "detent lesson lists them");
  check_refused({"lesson", "1\x1b[2J"}, "there is no lesson", "detent lesson");
  CHECK_FALSE(has(run_detent({"lesson", "\x1b[2J"}).errors, "\x1b"));
  check_refused({"lesson", "/"}, "is a directory", "a file that holds one");
  check_refused({"lesson", "/nowhere/at/all.md"}, "does not exist", "a file that holds one");
  check_refused({"lesson", "/dev/null"}, "is a device", "a file that holds one");
  check_refused({"lesson", "1", "2"}, "one word too many", "detent lesson 3");
  check_refused({"lesson", "--with", "a.detent"}, "no lesson is named", "detent lesson 1");
  check_refused({"lesson", "1", "--with"}, "'--with' has no value", "--with my_tow.detent");
  check_refused({"lesson", "1", "--all-at-once", "--write", "x"}, "don't go together", "leave out");
  check_refused({"lesson", "1", "--al-at-once"}, "there is no option '--al-at-once'", "--all-at-once");
  check_refused({"lesson", "1", "--timeout", "never"}, "--timeout", "30s");
}

TEST_CASE("--write puts the designs of a lesson into files, and never over one that is there") {
  const Folder folder;
  const std::string here = folder.path() + "/new/deeper";
  const ProcessResult written = run_detent({"lesson", "window", "--write", here});
  CHECK(written.status == 0);
  CHECK(has(written.output, here + "/window_hole.detent"));
  CHECK(run_detent({"check", here + "/window_hole.detent"}).status == 1);
  CHECK(run_detent({"check", here + "/window_mended.detent"}).status == 0);
  const std::string before = text_of(here + "/window_hole.detent");
  fs::remove(here + "/window_mended.detent");
  check_refused({"lesson", "window", "--write", here}, "is there already, and stays as it is",
                "another folder");
  CHECK(text_of(here + "/window_hole.detent") == before);
  CHECK_FALSE(fs::exists(here + "/window_mended.detent"));
  check_refused({"lesson", "1", "--write", "/dev/null/x"}, "can't write", "a folder that can be made");
  check_refused({"lesson", "1", "--write", ""}, "no name", "--write lessons");
}

TEST_CASE("A design of one's own is held against the lesson, and is not let off cheaply") {
  const Folder folder;
  const auto hold = [&](const std::string& text) {
    return run_detent({"lesson", "9", "--with", folder.write("mine.detent", text)});
  };
  const std::string own = "claim mine \"Not without go.\": drum only after go\n";
  const ProcessResult good = hold(last_design(9, own));
  INFO(good.output << good.errors);
  CHECK(good.status == 0);
  CHECK(has(good.output, "All that is asked is met."));
  // No claim of its own; only one of the lesson's over again; one that says nothing; one that is not about
  // the drum.
  CHECK(hold(last_design(9)).status == 1);
  CHECK(hold(last_design(9, "claim again: whenever stop: not drum\n")).status == 1);
  CHECK(hold(last_design(9, "claim empty: whenever drum and stop: go\n")).status == 1);
  CHECK(hold(last_design(9, "claim other: always go or not go\n")).status == 1);
  // The lesson's claims are asked in the lesson's words, whatever the file makes of them.
  const std::string weak = replaced(replaced(last_design(9, own), "and previous(not go) reset", "reset"),
                                    "go and previous(not go)\n", "go or drum\n");
  const ProcessResult weakened = hold(weak);
  CHECK(weakened.status == 1);
  CHECK(has(weakened.output, "not met  meant"));
  CHECK(
      hold(replaced(last_design(9, own), "output drum = running", "output drum = running and stop")).status ==
      1);
  // Hands that may do less are other hands.
  const auto refused = [&](const std::string& text, const std::string& what, const std::string& mend) {
    const ProcessResult result = hold(text);
    INFO(result.output << result.errors);
    CHECK(result.status == 2);
    CHECK(has(result.errors, what));
    CHECK(has(result.errors, mend));
  };
  refused(last_design(9, own + "assume good: never go and stop\n"), "assumes something",
          "leave the assumption out");
  refused(last_design(9, own + "at power_up: not go\n"), "assumes something", "leave the assumption out");
  refused(replaced(last_design(9, own), "power_up edges either", "power_up edges ignored"),
          "rule for power-up", "power_up edges either");
  refused(replaced(last_design(9, own), "tick 50 ms", "tick 100 ms"), "another tick", "tick 50 ms");
  refused(
      replaced(last_design(9, own), "button gate \"pressed while the gate is closed\"", "signal gate = true"),
      "the input 'gate'", "button gate");
  refused(replaced(last_design(9, own), "is off | on", "is off | on | half"), "the input 'key'",
          "switch key");
  refused(replaced(last_design(9), "output drum = running", "output reel = running"), "drum", "mend");
  refused("this is no design", "error", "mend");
  check_refused({"lesson", "9", "--with", "/nowhere/at/all.detent"}, "does not exist", "mend");
}

TEST_CASE("The mended design of every lesson meets what that lesson asks, and its hole does not") {
  const Folder folder;
  for (const cli::ShelvedLesson& one : cli::shelved_lessons()) {
    INFO(one.name);
    const auto lesson = std::get<cli::Lesson>(cli::read_lesson(one.text));
    const std::string mine = lesson.task ? "claim mine: " + lesson.task->about + " only after go\n" : "";
    const std::string file = folder.write(one.name + ".detent", lesson.designs.back().text + mine);
    CHECK(run_detent({"lesson", one.name, "--with", file}).status == 0);
    if (one.name == "comparing") continue;  // no claim tells its hole from its mend: that is the lesson
    const std::string hole = folder.write(one.name + "_hole.detent", lesson.design("hole")->text);
    CHECK(run_detent({"lesson", one.name, "--with", hole}).status == 1);
  }
}

TEST_CASE("A lesson of one's own is read from a file, and its mistakes are told with line and mend") {
  const std::string good =
      "# My lesson\nAbout a lamp.\n\n```detent hole\ntick 20 ms\nbutton b\noutput lamp = b\n"
      "claim dark: never lamp\n```\n```ask hole\nIs it dark?\n- Yes. [dark proved]\n- No. [dark "
      "refuted]\n```\n"
      "```check hole\n```\n";
  const Folder folder;
  const ProcessResult given = run_detent({"lesson", folder.write("lamp.md", good)}, {.input = "2\n"});
  CHECK(given.status == 0);
  CHECK(has(given.output, "You agree."));

  struct Mistake {
    std::string text;
    std::size_t line;
    std::string what;
  };
  const Mistake mistakes[] = {
      {"", 1, "no title"},
      {"No title\n", 1, "no title"},
      {"# Title\n", 1, "says what it is about"},
      {"# T\nline\n\n```detent hole\ntick 1 ms\n", 4, "has no end"},
      {"# T\nline\n\n```detnt hole\n```\n", 4, "there is no block 'detnt'"},
      {"# T\nline\n\n```\n```\n", 4, "there is no block ''"},
      {"# T\nline\n\n```detent\n```\n", 4, "does not name what it should"},
      {"# T\nline\n\n```detent a/b\n```\n", 4, "can't be the name of a design"},
      {"# T\nline\n\n```detent a\n```\n```detent a\n```\n", 6, "there is a design 'a' already"},
      {"# T\nline\n\n```check hole\n```\n", 4, "there is no design 'hole' above"},
      {"# T\nline\n\n```detent a\nx\n```\n```check a\nfoo\n```\n", 8, "nothing that a check knows"},
      {"# T\nline\n\n```detent a\nx\n```\n```mend b from a\n- y\n+ z\n```\n", 8, "stands nowhere"},
      {"# T\nline\n\n```detent a\nx\nx\n```\n```mend b from a\n- x\n+ z\n```\n", 9, "more than once"},
      {"# T\nline\n\n```detent a\nx\n```\n```mend b from a\n+ z\n```\n", 8, "neither taken out nor put in"},
      {"# T\nline\n\n```detent a\nx\n```\n```ask a\nq\n- Yes.\n- No.\n```\n", 9,
       "does not say what it would mean"},
      {"# T\nline\n\n```detent a\nx\n```\n```ask a\nq\n- Yes. [c maybe]\n```\n", 9, "'c maybe' is nothing"},
      {"# T\nline\n\n```detent a\nx\n```\n```ask a\nq\n- Yes. [same]\n```\n", 9, "does not fit the designs"},
      {"# T\nline\n\n```detent a\nx\n```\n```ask a\nq\n```\n", 7, "needs one or two designs and two choices"},
      {"# T\nline\n\n```ask\n```\n", 4, "nothing is asked"},
      {"# T\nline\n\n```own\nclaims many\n```\n", 5, "nothing that a task knows"},
      {"# T\nline\n\n```own\nclaims 1\n```\n", 4, "does not say what it is about"},
  };
  for (const Mistake& mistake : mistakes) {
    INFO(mistake.text);
    const auto read = cli::read_lesson(mistake.text);
    const auto* problem = std::get_if<cli::LessonProblem>(&read);
    REQUIRE(problem != nullptr);
    CHECK(problem->line == mistake.line);
    CHECK(has(problem->what, mistake.what));
    CHECK_FALSE(problem->mend.empty());
    const std::string file = folder.write("bad.md", mistake.text);
    check_refused({"lesson", file}, "bad.md:" + std::to_string(mistake.line) + ": ", "mend: ");
  }
  const std::string no_claim = folder.write("claim.md", replaced(good, "[dark proved]", "[drk proved]"));
  check_refused({"lesson", no_claim}, "has no claim 'drk'", "one of its claims");
  const std::string no_design =
      folder.write("design.md", replaced(good, "output lamp = b", "output lamp = bb"));
  check_refused({"lesson", no_design}, "the design 'hole' has a mistake in its line 3", "mend");
}

TEST_CASE("What was not decided in time is said to be so, and the status tells it") {
  const std::string text =
      "# Hard\nA product of many counters.\n\n```detent hole\ntick 1 ms\nchannel a from 0 to 100000\nchannel "
      "b from 0 "
      "to 100000\nkeep s = a when a > b starting 0\nkeep t = b when b > a starting 0\nsignal u = previous(s, "
      "starting "
      "0) + t\ncounter n up u == 77777 from 0 to 30000\nclaim c: never n == 29999 and u == 3 * previous(u, "
      "starting "
      "0)\n```\n```ask hole\nq\n- Yes. [c proved]\n- No. [c refuted]\n```\n";
  const Folder folder;
  const ProcessResult result =
      run_detent({"lesson", folder.write("hard.md", text), "--timeout", "1ms"}, {.input = "1\n"});
  INFO(result.output << result.errors);
  CHECK(result.status == 3);
  CHECK(has(result.output, "could not decide it in the time"));
}

}  // namespace detent::test
