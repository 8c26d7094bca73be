// `detent export` as a command: what goes with what, what is refused and how it is mended, files that are
// whole or as they were.
#include <filesystem>
#include <fstream>
#include <sstream>

#include "tests/support/catch.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/other_solvers.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"

namespace detent::test {
namespace {

namespace fs = std::filesystem;

const std::string boat = DETENT_SOURCE_DIR "/specs/boat/pump_jet.detent";
const std::string flaw = DETENT_SOURCE_DIR "/specs/mistakes/reset_starts.detent";

constexpr const char* two_flaws =
    "tick 20 ms\nbutton a\nbutton b\nclaim one: never a\nclaim two: never b\nclaim three: possible a and b\n";

ProcessResult export_as(const std::string& file, const std::string& form,
                        std::vector<std::string> more = {}) {
  std::vector<std::string> words{"export", file, "--as", form};
  words.insert(words.end(), more.begin(), more.end());
  return run_detent(words);
}

std::string text_of(const std::string& path) {
  std::ostringstream text;
  text << std::ifstream(path, std::ios::binary).rdbuf();
  return text.str();
}

}  // namespace

TEST_CASE("what does not go together is refused, with a mend", "[export]") {
  check_refusal(run_detent({"export", boat}), "--as", "detent export boat.detent --as sarif");
  check_refusal(export_as(boat, "sarf"), "--as: there is no 'sarf'", "did you mean 'sarif'?");
  check_refusal(export_as(boat, "xml"), "there is no 'xml'", "json, sarif, junit, vcd, smt2, dot");
  check_refusal(export_as(boat, "sarif", {"--run", "x.run"}), "--run has nothing to do with sarif",
                "json or vcd");
  check_refusal(export_as(boat, "dot", {"--within", "5 ticks"}), "--within has nothing to do with dot",
                "leave it out");
  check_refusal(export_as(boat, "vcd", {"--circuit"}), "--circuit has nothing to do with vcd",
                "leave it out");
  check_refusal(export_as(boat, "dot", {"--claim", "two_steps"}), "--circuit is missing",
                "--as dot --circuit");
  check_refusal(export_as(boat, "vcd", {"--run", "x.run", "--claim", "two_steps"}), "two ways",
                "leave out one");
  check_refusal(export_as(boat, "smt2"), "smt2 takes one claim at a time", "--claim ");
  check_refusal(export_as(boat, "vcd", {"--claim", "two_step"}), "no claim is called 'two_step'",
                "two_steps");
  check_refusal(export_as(boat, "smt2", {"--claim", "two_steps", "--within", "soon"}), "--within", "");
  check_refusal(run_detent({"check", boat, "--format", "sarif", "--run", "x.run"}),
                "sarif is a form for a whole check", "leave out --run");
  check_refusal(run_detent({"check", boat, "--format", "sarif", "--explain"}), "--explain", "--format sarif");
  check_refusal(run_detent({"gaps", boat, "--format", "sarif"}), "there is no 'sarif'", "text, json");
}

TEST_CASE("a run is drawn where one is meant", "[export][vcd]") {
  const Folder folder;
  const std::string file = folder.write("x.detent", two_flaws);
  check_refusal(export_as(file, "vcd"), "2 claims have one: one and two", "--claim one");
  CHECK(export_as(file, "vcd", {"--claim", "two"}).status == 1);
  CHECK(export_as(file, "vcd", {"--claim", "three"}).status == 0);
  const ProcessResult only = export_as(flaw, "vcd");  // one is refuted
  CHECK(only.status == 1);
  CHECK(has(only.output, "$enddefinitions"));
  check_refusal(export_as(boat, "vcd", {"--claim", "two_steps"}), "'two_steps' has no run to show: proved",
                "--run NAME.run");
  const ProcessResult run =
      export_as(boat, "vcd", {"--run", DETENT_SOURCE_DIR "/specs/boat/runs/held_left.run"});
  INFO(run.errors);
  CHECK(run.status == 0);
  CHECK(has(run.output, "$timescale 1 us $end"));
  const ProcessResult open =
      export_as(folder.write("y.detent", "tick 20 ms\nbutton a\nclaim far: possible held(a, 9 s)\n"), "vcd",
                {"--within", "5 ticks"});
  CHECK(open.status == 3);
  CHECK(has(open.errors, "undecided"));
  const std::string kept =
      folder.write("kept.detent", "tick 20 ms\nbutton a\nassume never_a: never a\nclaim c: never a\n");
  check_refusal(export_as(kept, "vcd", {"--run", folder.write("a.run", "at 0 s a pressed\nend 40 ms\n")}),
                "takes for granted never to happen", "let the run keep to it");
}

TEST_CASE("evidence as one question file, and bounded questions", "[export][smt2]") {
  std::string missing;
  const std::vector<std::string> solvers = solvers_here(missing);
  const Folder folder;
  const auto answers_to = [&](const std::string& file, std::vector<std::string> more, int status) {
    const std::string path = folder.path() + "/question.smt2";
    more.insert(more.end(), {"-o", path});
    const ProcessResult made = export_as(file, "smt2", more);
    INFO(made.errors);
    CHECK(made.status == status);
    CHECK(has(made.output, "It is in " + path));
    std::string all;
    for (const std::string& solver : solvers) all += "[" + run_process({solver, path}).output + "]";
    return all;
  };
  const auto each = [&](const std::string& answer) {
    std::string all;
    for (std::size_t i = 0; i < solvers.size(); ++i) all += "[" + answer + "]";
    return all;
  };
  CHECK(answers_to(boat, {"--claim", "two_steps"}, 0) == each("unsat\nunsat\nunsat\n"));
  CHECK(answers_to(flaw, {"--claim", "start_is_meant"}, 1) == each("sat\n"));
  CHECK(answers_to(flaw, {"--claim", "start_is_meant", "--within", "3 ticks"}, 0) == each("sat\n"));
  CHECK(answers_to(flaw, {"--claim", "start_is_meant", "--within", "2 ticks"}, 0) == each("unsat\n"));
  if (!missing.empty()) WARN(missing << "it was not asked");
}

TEST_CASE("exported files are whole, or as they were", "[export]") {
  const Folder folder;
  const std::string out = folder.write("out.sarif", "earlier");
  const ProcessResult done = export_as(flaw, "sarif", {"-o", out});
  CHECK(done.status == 1);
  CHECK(has(done.output, "1 refuted"));
  CHECK(has(done.output, "It is in " + out));
  CHECK(text_of(out) == export_as(flaw, "sarif").output);
  CHECK(export_as(flaw, "sarif", {"-o", "-"}).output == text_of(out));
  CHECK(run_detent({"check", flaw, "--format", "sarif"}).output == text_of(out));

  const std::string design = folder.write("own.detent", two_flaws);
  check_refusal(export_as(design, "dot", {"-o", design}), "is the design itself", "name another file");
  CHECK(text_of(design) == two_flaws);
  check_refusal(export_as(flaw, "dot", {"-o", folder.path() + "/no/such/folder.dot"}), "can't write",
                "a folder that");
  check_refusal(export_as(flaw, "vcd", {"-o", folder.path()}), "can't write", "name a file");

  const std::string wrong = folder.write("wrong.detent", "tick 20 ms\nsignal a = b\n");
  const ProcessResult told = export_as(wrong, "junit", {"-o", out});
  CHECK(told.status == 2);
  CHECK(has(told.errors, "nothing here is called 'b'"));
  CHECK(has(text_of(out), "type=\"text\""));
  const ProcessResult none = export_as(wrong, "dot", {"-o", out});
  CHECK(none.status == 2);
  CHECK(has(none.errors, "nothing was checked"));
  CHECK(has(text_of(out), "type=\"text\""));  // as it was
  std::size_t files = 0;
  for ([[maybe_unused]] const auto& entry : fs::directory_iterator(folder.path())) ++files;
  CHECK(files == 3);
}

TEST_CASE("the help of export fits on a page of 80 columns", "[export]") {
  std::istringstream help(run_detent({"export", "--help"}).output);
  for (std::string line; std::getline(help, line);) CHECK(line.size() <= 80);
}

}  // namespace detent::test
