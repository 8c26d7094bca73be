// detent format as a user meets it: in place, through a pipe, only looking; and what it leaves alone.
#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "cli/lesson_shelf.hpp"
#include "tests/fuzz/layout.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"

namespace detent::test {
namespace {

namespace fs = std::filesystem;

const std::string untidy = "tick   20 ms\nbutton stop // red\nclaim  quiet :never stop\n";
const std::string tidy = "tick 20 ms\nbutton stop  // red\nclaim  quiet: never stop\n";

std::string text_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

/// Of the files that were there and nothing else.
std::size_t files_in(const Folder& folder) {
  return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder.path()), {}));
}

}  // namespace

TEST_CASE("detent format lays a file out in place, once", "[format]") {
  const Folder folder;
  const std::string file = folder.write("a.detent", untidy);
  REQUIRE(chmod(file.c_str(), 0640) == 0);
  const ProcessResult result = run_detent({"format", file});
  CHECK(result.status == 0);
  CHECK(result.output == "laid out afresh: " + file + "\n");
  CHECK(result.errors.empty());
  CHECK(text_of(file) == tidy);
  CHECK(fs::status(file).permissions() == static_cast<fs::perms>(0640));
  CHECK(files_in(folder) == 1);

  const auto long_ago = fs::file_time_type::clock::now() - std::chrono::hours(24);
  fs::last_write_time(file, long_ago);
  const auto written = fs::last_write_time(file);
  struct stat before {};
  REQUIRE(stat(file.c_str(), &before) == 0);
  const ProcessResult again = run_detent({"format", file});
  CHECK(again.status == 0);
  CHECK(again.output.empty());
  struct stat after {};
  REQUIRE(stat(file.c_str(), &after) == 0);
  CHECK(fs::last_write_time(file) == written);
  CHECK(before.st_ino == after.st_ino);
}

TEST_CASE("detent format follows links, and does not put files in their place", "[format]") {
  const Folder folder;
  const std::string file = folder.write("a.detent", untidy);
  const std::string link = folder.path() + "/link.detent";
  fs::create_symlink("a.detent", link);
  CHECK(run_detent({"format", link}).status == 0);
  CHECK(fs::is_symlink(link));
  CHECK(text_of(file) == tidy);
}

TEST_CASE("detent format - reads standard input and writes standard output", "[format]") {
  ProcessWishes wishes;
  wishes.input = untidy;
  const ProcessResult result = run_detent({"format", "-"}, wishes);
  CHECK(result.status == 0);
  CHECK(result.output == tidy);
  wishes.input = tidy;
  CHECK(run_detent({"format", "-"}, wishes).output == tidy);
  wishes.input = "button\n";
  const ProcessResult refused = run_detent({"format", "-"}, wishes);
  CHECK(refused.status == 2);
  CHECK(refused.output.empty());
  CHECK(has(refused.errors, "(standard input):1:"));
}

TEST_CASE("detent format --check names the files that would change, and changes none", "[format]") {
  const Folder folder;
  const std::string good = folder.write("good.detent", tidy);
  const std::string bad = folder.write("bad.detent", "tick 20 ms\nbutton  stop\n");
  const ProcessResult result = run_detent({"format", "--check", good, bad});
  CHECK(result.status == 1);
  CHECK(result.output == bad + " would change, from line 2 on\n");
  CHECK(text_of(bad) == "tick 20 ms\nbutton  stop\n");
  const ProcessResult fine = run_detent({"format", good, "--check"});
  CHECK(fine.status == 0);
  CHECK(fine.output.empty());
  const std::string cut = folder.write("cut.detent", "tick 20 ms");
  CHECK(run_detent({"format", "--check", cut}).output == cut + " would change, from line 1 on\n");
}

TEST_CASE("detent format leaves a file with a mistake as it is, and lays out the others", "[format]") {
  const Folder folder;
  const std::string bad = folder.write("bad.detent", "tick   20 ms\nbuton stop\n");
  const std::string good = folder.write("good.detent", untidy);
  const ProcessResult result = run_detent({"format", bad, good});
  CHECK(result.status == 2);
  CHECK(has(result.errors, bad + ":2:1: error: "));
  CHECK(has(result.errors, "stays as it is"));
  CHECK(text_of(bad) == "tick   20 ms\nbuton stop\n");
  CHECK(text_of(good) == tidy);
  CHECK(run_detent({"format", "--check", bad, good}).status == 2);
}

TEST_CASE("the design that a lesson begins with is laid out", "[format]") {
  for (const cli::ShelvedLesson& shelved : cli::shelved_lessons()) {
    const auto read = cli::read_lesson(shelved.text);
    const cli::LessonDesign& design = std::get<cli::Lesson>(read).designs.front();
    INFO(shelved.name);
    CHECK(fuzz::formatted(design.text) == design.text);
  }
}

TEST_CASE("detent format says what it can't read or write", "[format]") {
  const Folder folder;
  const std::string here = folder.path();
  const std::string file = folder.write("a.detent", untidy);
  check_refused({"format", here + "/none.detent"}, "does not exist", "-");
  check_refused({"format", here}, "is a directory", "-");
  check_refused({"format", "-", file}, "standard input", "detent format - < FILE");
  check_refused({"format"}, "file", "detent");
  if (geteuid() == 0) return;  // to whom every file may be written
  REQUIRE(chmod(file.c_str(), 0440) == 0);
  check_refused({"format", file}, "may not be written", "-");
  CHECK(text_of(file) == untidy);
}

}  // namespace detent::test
