// The program as a user's shell sees it: exit statuses, streams, pipes, terminals, Ctrl-C.
#include <fmt/format.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>

#include "dsl/grammar.hpp"
#include "tests/cli/sample.hpp"
#include "tests/cli/schema.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"

namespace detent::test {
namespace {

using std::chrono::milliseconds;

/// A directory with files, gone afterwards.
class Folder {
 public:
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "detent-test-XXXXXX").string();
    REQUIRE(mkdtemp(name.data()) != nullptr);
    path_ = name;
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { std::filesystem::remove_all(path_); }

  std::string write(const std::string& name, const std::string& text) const {
    std::ofstream(at(name), std::ios::binary) << text;
    return at(name);
  }
  [[nodiscard]] std::string at(const std::string& name) const { return path_ + '/' + name; }
  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  std::string path_;
};

const char* const safe_text = R"(design "Lamp"
tick 20 ms
button on_button
button off_button
latch lamp set on_button reset off_button
claim off_wins: whenever off_button: not lamp
claim can_shine: possible lamp within 1 s
)";

const char* const unsafe_text = R"(tick 20 ms
button on_button
button off_button
latch lamp set on_button reset off_button
claim stays_dark: never lamp
)";

/// A claim that is true because every step is a multiple of 3: a search tick by tick finds that harder and
/// harder to see, so that its check takes as long as it may.
const char* const slow_text = R"(tick 20 ms
channel push from 0 % to 100 % step 1 %
keep total = min(previous(total, starting 0 %) + 3 * push, 1000000 %) when true starting 0 %
claim never_there: never total == 20000 %
claim can_rise: possible total >= 300 %
)";

std::vector<std::string> endless_check(const std::string& file, const std::vector<std::string>& more = {}) {
  std::vector<std::string> words{"check", file, "--within", "100000 ticks"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

}  // namespace

TEST_CASE("help and version") {
  for (const std::vector<std::string>& words : {std::vector<std::string>{"--help"},
                                                {"-h"},
                                                {"check", "--help"},
                                                {"check", "-h"},
                                                {"compare", "--help"},
                                                {"show", "--help"}}) {
    const ProcessResult result = run_detent(words);
    CHECK(result.status == 0);
    CHECK(result.errors.empty());
    CHECK(has(result.output, "Example"));
  }
  CHECK(run_detent({"help", "compare"}).output == run_detent({"compare", "--help"}).output);
  CHECK(run_detent({"help"}).output == run_detent({"--help"}).output);
  check_refused({"help", "chek"}, "there is no command 'chek'", "did you mean 'check'?");
  check_refused({"help", "check", "faults"}, "one command at a time", "detent help check");
  const ProcessResult version = run_detent({"--version"});
  CHECK(version.status == 0);
  CHECK(std::regex_match(version.output, std::regex(R"(detent \d+\.\d+\.\d+, on Z3 \d+\.\d+\.\d+\.\d+\n)")));
  const ProcessResult nothing = run_detent({});
  CHECK(nothing.status == 2);
  CHECK(nothing.output.empty());
  CHECK(has(nothing.errors, "detent check FILE"));
}

TEST_CASE("every option in the help is an option, and fits on a page of 80 columns") {
  const std::string help = run_detent({"check", "--help"}).output;
  const std::regex option("--[a-z-]+");
  std::set<std::string> seen;
  for (std::sregex_iterator at(help.begin(), help.end(), option), end; at != end; ++at)
    seen.insert(at->str());
  CHECK(seen == std::set<std::string>{"--within", "--claim", "--timeout", "--total-timeout", "--memory",
                                      "--format", "--width", "--color", "--all-signals", "--statistics",
                                      "--help", "--jobs", "--shard", "--evidence", "--run", "--explain"});
  for (const std::string& name : seen)
    CHECK_FALSE(has(run_detent({"check", name}).errors, "there is no option"));
  const std::string compare = run_detent({"compare", "--help"}).output;
  for (std::sregex_iterator at(compare.begin(), compare.end(), option), end; at != end; ++at)
    CHECK_FALSE(has(run_detent({"compare", at->str()}).errors, "there is no option"));
  std::istringstream lines(help + compare + run_detent({"--help"}).output +
                           run_detent({"show", "--help"}).output + run_detent({"why", "--help"}).output +
                           run_detent({"recheck", "--help"}).output + run_detent({"tune", "--help"}).output);
  for (std::string line; std::getline(lines, line);) CHECK(line.size() <= 80);
}

TEST_CASE("mistakes on the command line name the mend") {
  const Folder folder;
  const std::string file = folder.write("lamp.detent", safe_text);
  check_refused({"chek", file}, "there is no command 'chek'", "did you mean 'check'?");
  check_refused({"lamp.detent"}, "there is no command 'lamp.detent'", "detent check lamp.detent");
  check_refused({"check"}, "the file of the design is missing", "detent check boat.detent");
  check_refused({"check", file, "20", "s"}, "'20' is one word too many", "quotes");
  check_refused({"check", file, "--witin", "3 s"}, "there is no option '--witin'",
                "did you mean '--within'?");
  check_refused({"check", file, "--witin=3 s"}, "there is no option '--witin'", "did you mean '--within'?");
  check_refused({"--within", "3 s", "check", file}, "'--within' stands before the command",
                "detent check FILE");
  check_refused({"check", file, "--within"}, "'--within' has no value behind it", "--within \"20 s\"");
  check_refused({"why", file, "--claim"}, "'--claim' has no value behind it", "--claim in_time");
  check_refused({"check", file, "--jobs", "2", "--jobs", "3"}, "'--jobs' is written 2 times", "once");
  check_refused({"check", file, "--jobs", "2", "--within", "3 s"}, "--jobs and --within", "leave out one");
  check_refused({"check", file, "--statistics=3"}, "--statistics", "mend:");
  check_refused({"check", file, "--within", "50 ms"}, "50 ms is not a whole number of ticks",
                "40 ms or 60 ms");
  check_refused({"check", file, "--within", "2000"}, "'2000' is not a number of ticks", "\"2000 ticks\"");
  check_refused({"check", file, "--within", "-3 s"}, "'-3 s'", "mend:");
  check_refused({"check", file, "--claim", "offwins"}, "no claim is called 'offwins'",
                "did you mean 'off_wins'?");
  check_refused({"check", file, "--claim", "zzz"}, "no claim is called 'zzz'", "off_wins, can_shine");
  check_refused({"check", file, "--timeout", "30"}, "'30'", "30s");
  check_refused({"check", file, "--memory", "2GB"}, "'2GB'", "2GiB");
  check_refused({"check", file, "--format", "jsn"}, "there is no 'jsn'", "did you mean 'json'?");
  check_refused({"check", file, "--width", "7"}, "'7'", "from 40 to 1000");
  check_refused({"check", file, "--color", "blue"}, "there is no 'blue'", "auto, always, never");
  check_refused({"show", file, "signal"}, "there is no listing 'signal'", "did you mean 'signals'?");
  check_refused({"show"}, "the file of the design is missing", "detent show");
}

TEST_CASE("exit statuses of verdicts") {
  const Folder folder;
  const std::string safe_file = folder.write("safe.detent", safe_text);
  const ProcessResult for_ever = run_detent({"check", safe_file});
  INFO(for_ever.output << for_ever.errors);
  CHECK(for_ever.status == 0);
  CHECK(for_ever.errors.empty());
  CHECK(has(for_ever.output, "every run, of any length; up to 60 s for each claim"));
  CHECK(has(for_ever.output, "2 claims: 1 proved in every run of any length, 1 shown possible"));
  CHECK(has(for_ever.output, "not the wiring"));
  const ProcessResult safe = run_detent({"check", safe_file, "--within", "auto"});
  INFO(safe.output << safe.errors);
  CHECK(safe.status == 0);
  CHECK(safe.errors.empty());
  CHECK(has(safe.output, "proved up to 150 ticks (3 s)"));
  CHECK(has(safe.output, "twice the longest time in the\ndesign, 50 ticks (1 s), and 50 ticks more"));
  CHECK(has(safe.output, "2 claims: 1 proved up to 150 ticks (3 s), 1 shown possible"));
  CHECK(has(safe.output, "not the wiring"));
  const ProcessResult broken = run_detent({"check", folder.write("unsafe.detent", unsafe_text)});
  CHECK(broken.status == 1);
  CHECK(has(broken.output, "REFUTED by a run of 1 tick (tick 0)  stays_dark"));
  CHECK(has(broken.output, "Here the claim breaks: lamp must never be on, but it is on"));
  CHECK(has(broken.output, "1 claim: 1 refuted"));
}

TEST_CASE("only the claims that are asked for are checked") {
  const Folder folder;
  const std::string file = folder.write("safe.detent", safe_text);
  const ProcessResult one = run_detent({"check", file, "--claim", "can_shine", "--claim", "can_shine"});
  CHECK(one.status == 0);
  CHECK(has(one.output, "1 claim: 1 shown possible"));
  CHECK_FALSE(has(one.output, "off_wins"));
}

TEST_CASE("a limit that is reached leaves claims undecided") {
  const Folder folder;
  const std::string file = folder.write("slow.detent", slow_text);
  const ProcessResult late = run_detent(endless_check(file, {"--timeout", "500ms"}));
  CHECK(late.status == 3);
  CHECK(has(late.output, "undecided"));
  CHECK(has(late.output, "--timeout"));
  CHECK_FALSE(has(late.output, "proved"));
  const ProcessResult full = run_detent(endless_check(file, {"--memory", "64MiB", "--timeout", "20s"}));
  CHECK(full.status == 3);
  CHECK(has(full.output, "undecided"));
  CHECK(has(full.output, "The memory allowed by --memory was used up"));
  CHECK_FALSE(has(full.output, "proved"));
}

// Each of these once went on for many times as long: sampling, guessing and pairs of moves did not look at
// the clock. The bounds are loose, as the machine may be busy.
TEST_CASE("a time limit holds for designs of any size") {
  const Folder folder;
  std::string chain = "tick 20 ms\nbutton b\nsignal s0 = previous(b)\n";
  for (int i = 1; i < 40'000; ++i) chain += fmt::format("signal s{} = previous(s{})\n", i, i - 1);
  chain += "claim c: never s39999 and b\n";
  std::string names, moves;
  for (int i = 0; i < 300; ++i) {
    names += fmt::format("{}a{}", i == 0 ? "" : " | ", i);
    moves += fmt::format("  a{} -> a{} when b\n  a{} -> a{} when c\n", i, (i + 1) % 300, i, (i + 2) % 300);
  }
  const std::string stages =
      "tick 20 ms\nbutton b\nbutton c\nstages st is " + names + "\n" + moves + "claim x: never st is a299\n";
  for (const std::string& text : {chain, stages}) {
    const auto start = std::chrono::steady_clock::now();
    const ProcessResult result = run_detent({"check", folder.write("x.detent", text), "--timeout", "1 s"});
    CHECK(result.status == 3);
    CHECK(has(result.output, "The time allowed by --timeout was over"));
    CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(15));
  }
}

TEST_CASE("assumptions that contradict each other are an error, not a proof") {
  const Folder folder;
  const std::string file = folder.write("x.detent",
                                        "tick 20 ms\nbutton b\nsignal a = b\nassume one: always b\n"
                                        "assume two: never b\nclaim c: never a\n");
  const ProcessResult text = run_detent({"check", file});
  CHECK(text.status == 2);
  CHECK(text.output.empty());
  CHECK(has(text.errors, "no run of 1 tick (20 ms) obeys everything that is assumed"));
  CHECK(has(text.errors, "'one'"));
  CHECK(has(text.errors, "'two'"));
  const ProcessResult json = run_detent({"check", file, "--format", "json"});
  CHECK(json.status == 2);
  const auto document = nlohmann::json::parse(json.output);
  CHECK(document["no_run_of"] == 1);
  CHECK(document["verdicts"].empty());
  CHECK(document["exit_status"] == 2);
  std::ifstream schema_file(DETENT_SOURCE_DIR "/cli/check.schema.json");
  for (const std::string& complaint : schema_complaints(nlohmann::json::parse(schema_file), document))
    FAIL_CHECK(complaint);
  REQUIRE(document["contradicting"].size() == 2);
  CHECK(document["contradicting"][0]["name"] == "one");
  CHECK(document["contradicting"][1]["place"]["line"] == 5);
}

TEST_CASE("of the assumptions only those are named that contradict each other") {
  const Folder folder;
  const std::string file = folder.write("x.detent",
                                        "tick 20 ms\nbutton b\nbutton d\nsignal a = previous(b)\n"
                                        "assume spare: d only after b\nassume one: whenever a: d\n"
                                        "assume idle: never b and d and not b\n"
                                        "assume two: never d\nassume three: always b\nclaim c: never a\n");
  for (const std::vector<std::string>& more : {std::vector<std::string>{}, {"--within", "20 ticks"}}) {
    std::vector<std::string> words{"check", file};
    words.insert(words.end(), more.begin(), more.end());
    const ProcessResult text = run_detent(words);
    INFO(text.output << text.errors);
    CHECK(text.status == 2);
    CHECK(has(text.errors, "means anything"));
    for (const char* name : {"'one'", "'two'", "'three'"}) CHECK(has(text.errors, name));
    for (const char* name : {"'spare'", "'idle'"}) CHECK_FALSE(has(text.errors, name));
  }
}

TEST_CASE("JSON goes to standard output, also for a text with mistakes") {
  const Folder folder;
  std::ifstream schema_file(DETENT_SOURCE_DIR "/cli/check.schema.json");
  const auto schema = nlohmann::json::parse(schema_file);
  const std::vector<std::pair<std::string, int>> texts{
      {safe_text, 0}, {unsafe_text, 1}, {"tick 20 ms\nsignal a = b\n", 2}, {"", 2}, {"\xFF\x1b[31m", 2}};
  for (const auto& [text, status] : texts) {
    const ProcessResult result = run_detent({"check", folder.write("x.detent", text), "--format", "json"});
    CHECK(result.status == status);
    CHECK(result.errors.empty());
    CHECK_FALSE(has(result.output, "\x1b"));
    const auto document = nlohmann::json::parse(result.output);
    CHECK(document["exit_status"] == status);
    for (const std::string& complaint : schema_complaints(schema, document)) FAIL_CHECK(complaint);
  }
}

TEST_CASE("files that are no designs") {
  const Folder folder;
  const auto problem = [](const std::string& file, const std::string& part) {
    const ProcessResult result = run_detent({"check", file});
    INFO(file << ": " << result.errors);
    CHECK(result.status == 2);
    CHECK(result.output.empty());
    CHECK(has(result.errors, part));
    CHECK_FALSE(has(result.errors, "\x1b"));
  };
  problem(folder.path(), "is a directory");
  problem(folder.at("missing.detent"), "does not exist");
  problem(folder.at("mis\x1b[31msing"), "does not exist");
  problem("/dev/zero", "is a device");
  problem("", "has no name");
  REQUIRE(mkfifo(folder.at("pipe").c_str(), 0600) == 0);
  problem(folder.at("pipe"), "is a pipe");
  problem(folder.write("large", std::string(dsl::largest_file_bytes + 1, ' ')), "large");
  problem(folder.write("nul", std::string("tick 20 ms\0", 11)), "nul:1:");
  if (geteuid() != 0) {  // whoever may read everything cannot be refused
    const std::string secret = folder.write("secret", safe_text);
    REQUIRE(chmod(secret.c_str(), 0) == 0);
    problem(secret, "may not be read");
  }
}

TEST_CASE("a design on standard input") {
  const ProcessResult result = run_detent({"check", "-"}, {.input = unsafe_text});
  CHECK(result.status == 1);
  CHECK(has(result.output, "(standard input), a tick"));
  CHECK(has(result.output, "stays_dark  line 5"));
  const ProcessResult wrong = run_detent({"check", "-"}, {.input = "tick 20 ms\nsignal a = b\n"});
  CHECK(wrong.status == 2);
  CHECK(has(wrong.errors, "(standard input):2:12"));
  CHECK(run_shell("$DETENT check - < /dev/zero").status == 2);
  CHECK(run_shell("$DETENT check - <&-").status == 2);
}

TEST_CASE("listings") {
  const Folder folder;
  const std::string file = folder.write("safe.detent", safe_text);
  const ProcessResult signals = run_detent({"show", file});
  CHECK(signals.status == 0);
  CHECK(has(signals.output, "released | pressed"));
  CHECK(signals.output == run_detent({"show", file, "signals"}).output);
  CHECK(has(run_detent({"show", file, "tree"}).output, "latch"));
  const ProcessResult circuit = run_detent({"show", file, "circuit"});
  CHECK(circuit.status == 0);
  CHECK(has(circuit.output, "lamp"));
  const ProcessResult wrong = run_detent({"show", folder.write("x", "nonsense"), "tree"});
  CHECK(wrong.status == 2);
  CHECK(has(wrong.errors, "x:1:1"));
}

TEST_CASE("a reader that goes away ends the program quietly, but not with success") {
  const Folder folder;
  const std::string file = folder.write("safe.detent", safe_text);
  const ProcessWishes wishes{.directory = folder.path()};
  const std::string check = "$DETENT check safe.detent";
  const ProcessResult gone =
      run_shell("( sleep 0; " + check + "; echo status $? >&2 ) | true; sleep 1", wishes);
  CHECK(has(gone.errors, "status "));
  CHECK(gone.errors.size() < std::string("status 141\n").size() + 1);
  const ProcessResult closed = run_shell(check + " >&-", wishes);
  CHECK(closed.status == 2);
  CHECK(has(closed.errors, "standard output: it is closed"));
  CHECK(has(closed.errors, "mend:"));
  const ProcessResult full = run_shell(check + " > /dev/full", wishes);
  CHECK(full.status == 2);
  CHECK(has(full.errors, "standard output: No space left on device"));
  CHECK(has(full.errors, "mend: make room on the disk"));
  const ProcessResult limited = run_shell("ulimit -f 0; " + check + " > out.txt", wishes);
  CHECK(limited.status == 2);
  CHECK(has(limited.errors, "standard output: File too large"));
  CHECK(has(limited.errors, "ulimit -f"));
  CHECK(run_shell(check + " >&- 2>&-", wishes).status == 2);
  CHECK(run_shell(check + " | grep -c proved", wishes).status == 0);
}

TEST_CASE("a closed standard output is not filled by a file that is opened later") {
  const Folder folder;
  folder.write("safe.detent", safe_text);
  const ProcessResult closed =
      run_shell("$DETENT check safe.detent --evidence proofs >&-", {.directory = folder.path()});
  CHECK(closed.status == 2);
  for (const auto& entry : std::filesystem::directory_iterator(folder.at("proofs"))) {
    std::ostringstream text;
    text << std::ifstream(entry.path()).rdbuf();
    CHECK_FALSE(has(text.str(), "not the wiring"));
  }
}

TEST_CASE("a folder for evidence that can't be written to is refused before the check") {
  const Folder folder;
  const std::string file = folder.write("slow.detent", slow_text);
  const std::string plain = folder.write("plain", "");
  const auto refused = [&](const std::string& place, const std::string& what) {
    // Checked first, this would take 20 s.
    const auto start = std::chrono::steady_clock::now();
    check_refused(endless_check(file, {"--timeout", "20 s", "--evidence", place}), what, "mend:");
    CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(10));
  };
  refused(plain, "is not a folder");
  refused(plain + "/below", "can't be made");
  refused("/proc/nowhere", "can't be made");
  const std::string safe = folder.write("safe.detent", safe_text);
  CHECK(run_detent({"check", safe, "--evidence", folder.at("made/on/the/way")}).status == 0);
  CHECK(std::filesystem::exists(folder.at("made/on/the/way/index.json")));
  CHECK_FALSE(std::filesystem::exists(folder.at("made/on/the/way/trial.part")));
  const ProcessResult limited =
      run_shell("ulimit -f 0; $DETENT check safe.detent --evidence full", {.directory = folder.path()});
  CHECK(limited.status == 2);
  CHECK(has(limited.errors, "--evidence: can't write to the folder 'full'"));
  CHECK(std::filesystem::is_empty(folder.at("full")));
}

TEST_CASE("of very many mistakes a page shows some, and JSON all") {
  const Folder folder;
  std::string text = "tick 20 ms\n";
  for (int index = 0; index < 200; ++index) text += fmt::format("signal s{} = nowhere{}\n", index, index);
  const std::string file = folder.write("x.detent", text);
  const ProcessResult page = run_detent({"check", file});
  CHECK(page.status == 2);
  CHECK(has(page.errors, "more: mend these first, or see all with --format json"));
  CHECK(has(page.errors, "200 errors"));
  CHECK(std::count(page.errors.begin(), page.errors.end(), '\n') < 400);
  const auto json = nlohmann::json::parse(run_detent({"check", file, "--format", "json"}).output);
  CHECK(json["diagnostics"].size() >= 200);
}

TEST_CASE("colour only where it is wanted") {
  const Folder folder;
  const std::string file = folder.write("unsafe.detent", unsafe_text);
  const auto colored = [&](const ProcessWishes& wishes, const std::vector<std::string>& more = {}) {
    std::vector<std::string> words{"check", file};
    words.insert(words.end(), more.begin(), more.end());
    return has(run_detent(words, wishes).output, "\x1b[");
  };
  using Variables = std::vector<std::pair<std::string, std::string>>;
  const Variables usual{{"TERM", "linux"}, {"LC_ALL", "C.UTF-8"}};
  const Variables dumb{{"TERM", "dumb"}};
  const Variables no_color{{"TERM", "linux"}, {"NO_COLOR", "1"}};
  CHECK(colored({.environment = usual, .on_terminal = true}));
  CHECK_FALSE(colored({.environment = usual}));
  CHECK_FALSE(colored({.environment = dumb, .on_terminal = true}));
  CHECK_FALSE(colored({.environment = no_color, .on_terminal = true}));
  CHECK_FALSE(colored({.environment = usual, .on_terminal = true}, {"--color", "never"}));
  CHECK(colored({.environment = no_color}, {"--color", "always"}));
}

TEST_CASE("characters by the locale, columns by what is asked for") {
  const Folder folder;
  // Two ticks: a run of one has no diagram.
  const std::string file =
      folder.write("unsafe.detent", std::string(unsafe_text) + "claim stays_so: never previous(lamp)\n");
  CHECK(has(run_detent({"check", file}, {.environment = {{"LANG", "C.UTF-8"}}}).output, "┬"));
  for (const char letter : run_detent({"check", file}, {.environment = {}}).output) {
    CHECK(static_cast<unsigned char>(letter) < 0x80);
  }
  const auto lines = [&](const std::string& width) {
    const std::string page = run_detent({"check", file, "--width", width}).output;
    return std::count(page.begin(), page.end(), '\n');
  };
  CHECK(lines("40") > lines("120"));
}

TEST_CASE("Ctrl-C stops a long check, and what is known is told") {
  const Folder folder;
  const std::string file = folder.write("slow.detent", slow_text);
  const ProcessResult result = run_detent(endless_check(file), {.interrupt_after = milliseconds(1500)});
  INFO(result.output << result.errors);
  CHECK(result.status == 3);
  CHECK(has(result.output, "The check was stopped before"));
  CHECK(has(result.output, "2 claims:"));
  const ProcessResult json =
      run_detent(endless_check(file, {"--format", "json"}), {.interrupt_after = milliseconds(1500)});
  CHECK(json.status == 3);
  CHECK(nlohmann::json::parse(json.output)["verdicts"][0]["limit"] == "interrupted");
}

TEST_CASE("the time for all of it ends a check and a report, and what is known is told") {
  const Folder folder;
  const std::string file = folder.write("slow.detent", slow_text);
  const ProcessResult check = run_detent(endless_check(file, {"--total-timeout", "1500 ms"}));
  INFO(check.output << check.errors);
  CHECK(check.status == 3);
  CHECK(has(check.output, "--total-timeout"));
  const ProcessResult report =
      run_detent({"report", file, "--timeout", "1h", "--total-timeout", "1500 ms", "--faults", "--gaps"});
  CHECK(report.status == 3);
  CHECK(has(report.output, "</html>"));
  const ProcessResult none = run_detent({"check", file, "--total-timeout", "soon"});
  CHECK(none.status == 2);
  CHECK(has(none.errors, "--total-timeout: 'soon' is not a time"));
}

TEST_CASE("progress is shown on a terminal only, and is gone at the end") {
  const Folder folder;
  const std::string file = folder.write("slow.detent", slow_text);
  const std::vector<std::string> words = endless_check(file, {"--timeout", "3s"});
  const std::regex progress("tick \\d+ of 100000, \\d claims? open");
  const std::string seen =
      run_detent(words, {.environment = {{"TERM", "linux"}, {"LC_ALL", "C.UTF-8"}}, .on_terminal = true})
          .output;
  CHECK(std::regex_search(seen, progress));
  CHECK(has(seen, "\r\x1b[K"));
  CHECK(run_detent(words).errors.empty());
  CHECK_FALSE(std::regex_search(
      run_detent(words, {.environment = {{"TERM", "dumb"}}, .on_terminal = true}).output, progress));
}

}  // namespace detent::test
