// `detent report`: the page itself. How it behaves in a browser is tested in browser_test.cpp.
#include <sys/stat.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "cli/report/run_view.hpp"
#include "solver/interpreter.hpp"
#include "tests/cli/sample.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/markup.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"

namespace detent::test {
namespace {

namespace fs = std::filesystem;
const std::string specs = DETENT_SOURCE_DIR "/specs/";

/// Words that would mean something in HTML, in a script or in a style sheet, wherever a design can hold
/// words.
const char* const hostile_text =
    R"(design "</title></script><script>alert(1)</script> & \"O'Neill\" Größe 漢字"
tick 20 ms
// </code></style><img src=x onerror=alert(2)> <!-- ]]> -->
button b_1 "</text><script>alert(3)</script>"
channel x "a & b < c > d" from 0 % to 100 % step 1 %
latch live "<b>bold</b> & 'quoted'" set b_1 reset x > 50 %
claim never_live "</script><script>alert(4)</script> &amp; Ü </p>": never live
claim off_wins "<i>":
    whenever x > 50 %: not live
)";

std::string hostile_design() {
  std::string text = hostile_text;
  // The language has no escapes in a sentence.
  for (std::size_t at = text.find("\\\""); at != std::string::npos; at = text.find("\\\"")) text.erase(at, 2);
  return text;
}

std::string read(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

std::size_t count(const std::string& text, const std::string& part) {
  std::size_t found = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++found;
  return found;
}

/// Well-formed, every id its own, every link to a place on the page, nothing fetched from anywhere.
void check_page(const std::string& html, const Markup& markup) {
  for (const std::string& mistake : markup.mistakes) FAIL_CHECK(mistake);
  std::set<std::string> ids;
  for (const Tag& tag : markup.tags) {
    const auto id = tag.attributes.find("id");
    if (id != tag.attributes.end() && !ids.insert(id->second).second) FAIL_CHECK("twice: " + id->second);
    for (const char* fetching :
         {"src", "srcset", "data", "action", "poster", "xlink:href", "onerror", "onload"}) {
      if (tag.attributes.count(fetching) != 0) FAIL_CHECK(tag.name + " has " + fetching);
    }
    CHECK(tag.name != "link");
    CHECK(tag.name != "img");
  }
  for (const Tag& tag : markup.tags) {
    const auto href = tag.attributes.find("href");
    if (href == tag.attributes.end()) continue;
    INFO(href->second);
    CHECK(href->second.starts_with("#"));
    CHECK(ids.count(href->second.substr(1)) == 1);
  }
  for (const char* fetching : {"url(", "@import", "fetch(", "XMLHttpRequest", "import("}) {
    CHECK_FALSE(has(html, fetching));
  }
}

std::string page_of(const std::vector<std::string>& more, int status) {
  std::vector<std::string> words{"report"};
  words.insert(words.end(), more.begin(), more.end());
  const ProcessResult result = run_detent(words);
  INFO(result.errors);
  REQUIRE(result.status == status);
  return result.output;
}

}  // namespace

TEST_CASE("a report is well-formed, holds every claim, and needs nothing from anywhere", "[page]") {
  for (const auto& [file, status] :
       std::vector<std::pair<std::string, int>>{{"boat/pump_jet.detent", 0},
                                                {"boat/flaw_window_kept_alive.detent", 1},
                                                {"winch/camera_winch.detent", 0}}) {
    INFO(file);
    const std::string html = page_of({specs + file}, status);
    const Markup markup = read_markup(html);
    check_page(html, markup);
    CHECK_FALSE(has(html, "://"));
    const auto answer = nlohmann::json::parse(run_detent({"check", specs + file, "--format", "json"}).output);
    REQUIRE_FALSE(answer["verdicts"].empty());
    for (const auto& claim : answer["verdicts"]) {
      INFO(claim["claim"]);
      CHECK(has(html, "<h3>" + claim["claim"].get<std::string>() + "</h3>"));
      CHECK(has(markup.text, claim["doc"].get<std::string>()));
      CHECK(has(markup.text, claim["text"].get<std::string>()));
    }
    for (const auto& signal : answer["signals"]) {
      INFO(signal["name"]);
      CHECK(has(markup.text, "\n" + signal["name"].get<std::string>() + "\n"));
    }
    CHECK(has(markup.text, "blade or propeller off"));
    CHECK(has(markup.text, "Local codes and licensed practice decide"));
    CHECK(has(markup.text, "A proof is about the model"));
  }
}

TEST_CASE("a design's words mean nothing to a browser", "[page]") {
  const Folder folder;
  const std::string file = folder.write("hostile <b>&'.detent", hostile_design());
  const std::string html = page_of({file, "--gaps", "--faults"}, 1);
  const Markup markup = read_markup(html);
  check_page(html, markup);
  // Two scripts for the runs' data are ours, and the page's own.
  CHECK(count(html, "<script") == 2);
  CHECK(count(html, "</script>") == 2);
  CHECK(count(html, "<style") == 1);
  CHECK_FALSE(has(html, "<b>bold"));
  CHECK_FALSE(has(html, "<img"));
  CHECK_FALSE(has(html, "<!--"));
  CHECK(has(markup.text, "</title></script><script>alert(1)</script> & O'Neill Größe 漢字"));
  CHECK(has(markup.text, "</script><script>alert(4)</script> &amp; Ü </p>"));
  CHECK(has(markup.text, "// </code></style><img src=x onerror=alert(2)> <!-- ]]> -->"));
  CHECK(has(markup.text, "<b>bold</b> & 'quoted'"));
}

TEST_CASE("what is asked for besides is on the page", "[page]") {
  const std::string html = page_of(
      {specs + "horn/horn.detent", "--tune", "--gaps", "--faults", "--compare", specs + "horn/horn.detent"},
      0);
  const Markup markup = read_markup(html);
  check_page(html, markup);
  for (const char* words :
       {"The same in all that both have, for all time.", "All claims hold at 9 of 12 values.",
        "500 ms to 1.2 s", "nobody would notice", "The design survives",
        "no replacement for, an assessment under the standards of machine safety"}) {
    INFO(words);
    CHECK(has(markup.text, words));
  }
}

TEST_CASE("a page tells at which values a claim says nothing", "[page]") {
  const Folder folder;
  const std::string file = folder.write("empty.detent",
                                        "tick 10 ms\ntunable t = 3 from 1 to 9\nbutton a\n"
                                        "counter n up a from 0 to 5\n"
                                        "claim c: whenever n == t: not (n == 0)\n");
  CHECK(has(read_markup(page_of({file, "--tune"}, 0)).text,
            "c says nothing at 4 of these values, the first 6, the last 9"));
}

TEST_CASE("a run on the page is the run of the interpreter, tick by tick", "[page]") {
  const dsl::Compiled design = compiled_text(boat_text());
  const dsl::Model& model = *design.model;
  const solver::Verdict verdict =
      verdict_by(model, "never_live",
                 run_of(model, 12, {{0, "radio", 0}, {3, "nudge", 1}, {5, "nudge", 0}, {11, "guard", 1}}));
  const dsl::Claim& claim = model.claims[verdict.claim];
  const cli::report::RunView view = cli::report::view_run({.model = model,
                                                           .run = *verdict.run,
                                                           .about = claim.watch,
                                                           .names = claim.first.mentions,
                                                           .ending = "The end.",
                                                           .mark = "here"},
                                                          "run-0", "a run");
  const solver::Trace trace = solver::replay(model.circuit, *verdict.run);
  REQUIRE(view.signals.size() == model.signals.size());
  std::set<dsl::Value> changes{0, 11};
  for (std::size_t index = 0; index < view.signals.size(); ++index) {
    std::size_t at = 0;
    const auto& spans = view.signals[index].spans;
    for (std::size_t tick = 0; tick < trace.ticks(); ++tick) {
      const dsl::Value value = trace.at(tick, model.signals[index].node);
      if (at + 1 < spans.size() && spans[at + 1].from == static_cast<dsl::Value>(tick)) ++at;
      CHECK(spans[at].value == value);
      if (tick > 0 && trace.at(tick - 1, model.signals[index].node) != value) {
        changes.insert(static_cast<dsl::Value>(tick));
      }
    }
  }
  CHECK(std::set<dsl::Value>(view.events.begin(), view.events.end()) == changes);
  // The columns of the diagram hold every tick once.
  dsl::Value next = 0;
  for (const cli::Stretch& stretch : view.stretches) {
    CHECK(stretch.from == next);
    next = stretch.end;
  }
  CHECK(next == view.ticks);
  CHECK(view.story.back().sentences.back() == "The end.");
  CHECK(view.story.back().tick == 11);
}

TEST_CASE("a page is written whole or not at all", "[page]") {
  const Folder folder;
  const std::string page = folder.write("page.html", "as it was");
  const std::string lamp = folder.write("lamp.detent",
                                        "tick 20 ms\nbutton a\nlatch lamp set a reset not a\n"
                                        "claim can: possible lamp\n");
  const fs::path here = fs::path(page).parent_path();
  const auto refused = [&](const std::vector<std::string>& words, const std::string& what) {
    const ProcessResult result = run_detent(words);
    INFO(result.errors);
    CHECK(result.status == 2);
    CHECK(result.output.empty());
    CHECK(has(result.errors, what));
    CHECK(has(result.errors, "mend: "));
    CHECK(std::distance(fs::directory_iterator(here), fs::directory_iterator()) == 2);
    CHECK(read(page) == "as it was");
  };
  refused({"report", lamp, "-o", (here / "no" / "page.html").string()}, "No such file or directory");
  refused({"report", lamp, "-o", here.string()}, "Is a directory");
  refused({"report", lamp, "-o", lamp}, "is the design itself");
  // A file that a design includes may be called anything.
  const Folder parts;
  const std::string held = "part edge(condition x)\n  signal first = rises(x)\nend\n";
  const std::string part = parts.write("edge.part", held);
  const std::string whole = parts.write("whole.detent",
                                        "tick 20 ms\ninclude \"edge.part\"\nbutton a\nuse e = edge(a)\n"
                                        "claim can: possible e.first\n");
  refused({"report", whole, "-o", part}, "is the design itself");
  refused({"report", lamp, "--compare", whole, "-o", part}, "is the design itself");
  CHECK(read(part) == held);
  refused({"report", lamp, "-o", "/dev/full"}, "No space left on device");
  refused({"report", lamp, "-o", page, "--tune"}, "has no tunables");
  refused({"report", lamp, "-o", page, "--compare", (here / "none.detent").string()}, "none.detent");
  refused({"report", "-", "-o", page, "--compare", "-"}, "standard input");
  refused({"report", lamp, "-o", page, "--claim", "cann"}, "did you mean 'can'?");

  const ProcessResult written = run_detent({"report", lamp, "-o", page});
  CHECK(written.status == 0);
  CHECK(has(written.output, "1 claim: 1 shown possible"));
  CHECK(has(written.output, page));
  CHECK(read_markup(read(page)).mistakes.empty());
  CHECK(std::distance(fs::directory_iterator(here), fs::directory_iterator()) == 2);
  struct stat info {};
  REQUIRE(stat(page.c_str(), &info) == 0);
  CHECK((info.st_mode & 0400U) != 0);
}

TEST_CASE("a disk that is full in the middle of a page leaves the old one", "[page]") {
  const Folder folder;
  const std::string page = folder.write("page.html", "as it was");
  // A limit on the size of files stands for a full disk: 8 blocks of 512 bytes are less than a page, and the
  // trial before the check fits into them.
  const ProcessResult result =
      run_shell("ulimit -f 8; \"$DETENT\" report '" + specs + "guards/one_channel.detent' -o '" + page + "'");
  INFO(result.errors);
  CHECK(result.status == 2);
  CHECK(has(result.errors, "File too large"));
  CHECK(read(page) == "as it was");
  const fs::path here = fs::path(page).parent_path();
  CHECK(std::distance(fs::directory_iterator(here), fs::directory_iterator()) == 1);
}

TEST_CASE("without dot there is a message before the check, not after it", "[page]") {
  const ProcessResult result =
      run_shell("PATH=/nonexistent \"$DETENT\" report '" + specs + "boat/pump_jet.detent' -o /dev/null");
  CHECK(result.status == 2);
  CHECK(result.output.empty());
  CHECK(has(result.errors, "the program 'dot'"));
  CHECK(has(result.errors, "apt-get install graphviz"));
}

TEST_CASE("a report without a file goes to standard output, but not to a terminal", "[page]") {
  ProcessWishes terminal;
  terminal.on_terminal = true;
  const ProcessResult result = run_detent({"report", specs + "guards/one_channel.detent"}, terminal);
  CHECK(result.status == 2);
  CHECK(has(result.output, "-o report.html"));
  CHECK(page_of({specs + "guards/one_channel.detent"}, 0).starts_with("<!DOCTYPE html>"));
}

TEST_CASE("assumptions that contradict each other and wrong texts give no page", "[page]") {
  const Folder folder;
  const std::string wrong = folder.write("wrong.detent", "tick 20 ms\nbutton a\nclaim c: never b\n");
  const std::string none = folder.write("none.detent",
                                        "tick 20 ms\nbutton a\nassume x: always a\nassume y: never a\n"
                                        "claim c: never a\n");
  for (const std::string& file : {wrong, none}) {
    const ProcessResult result = run_detent({"report", file, "-o", file + ".html"});
    CHECK(result.status == 2);
    CHECK(result.output.empty());
    CHECK(has(result.errors, "error"));
    CHECK_FALSE(fs::exists(file + ".html"));
  }
}

TEST_CASE("what is asked for besides is refused where nothing is claimed, before anything is checked",
          "[page]") {
  const Folder folder;
  const std::string file = folder.write("silent.detent", "tick 20 ms\nbutton a\noutput lamp = a\n");
  for (const char* wish : {"--tune", "--faults", "--gaps"}) {
    INFO(wish);
    const ProcessResult result = run_detent({"report", file, "-o", file + ".html", wish});
    CHECK(result.status == 2);
    CHECK(has(result.errors, "this design claims nothing"));
    CHECK_FALSE(fs::exists(file + ".html"));
  }
}

}  // namespace detent::test
