// Evidence of two checks never passes for one.
// Checked: digests of files | FIPS 180-4, SHA-256, the examples "abc" and the empty message | from memory
#include <filesystem>
#include <memory>

#include "cli/digest.hpp"
#include "cli/evidence_folder.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/process.hpp"
#include "tests/support/says.hpp"

namespace detent::test {
namespace {

namespace fs = std::filesystem;

std::string lamp(const std::string& time) {
  return "tick 20 ms\nbutton a\nbutton z\nlatch lamp set a reset z\ndelay slow on lamp for " + time +
         "\nclaim safe: whenever slow: lamp\nclaim can: possible slow\n";
}

ProcessResult recheck(const std::string& folder) {
  return run_detent({"recheck", folder, "--solver", "z3"});
}

}  // namespace

TEST_CASE("Digests are those of the standard", "[robust]") {
  CHECK(cli::sha256("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(cli::sha256("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

TEST_CASE("A right proof of another check is not taken for this one's", "[robust]") {
  const Folder folder;
  for (const auto& [name, time] : {std::pair("one", "100 ms"), std::pair("two", "200 ms")}) {
    folder.write(std::string(name) + ".detent", lamp(time));
    REQUIRE(run_detent(
                {"check", folder.path() + "/" + name + ".detent", "--evidence", folder.path() + "/" + name})
                .status == 0);
  }
  if (recheck((folder.path() + "/one")).status != 0) return;  // z3 is not installed
  SECTION("all three questions") {
    for (const char* part : {"start", "step", "claim"}) {
      const std::string name = std::string("/safe.") + part + ".smt2";
      fs::copy_file((folder.path() + "/two") + name, (folder.path() + "/one") + name,
                    fs::copy_options::overwrite_existing);
    }
    const ProcessResult mixed = recheck((folder.path() + "/one"));
    CHECK(mixed.status == 1);
    CHECK(has(mixed.output,
              "WRONG  safe: the file 'safe.start.smt2' is not the one that the index was written with"));
  }
  SECTION("a run") {
    fs::copy_file((folder.path() + "/two") + "/can.run.json", (folder.path() + "/one") + "/can.run.json",
                  fs::copy_options::overwrite_existing);
    const ProcessResult mixed = recheck((folder.path() + "/one"));
    CHECK(mixed.status == 1);
    CHECK(has(mixed.output, "WRONG  can: the file 'can.run.json' is not the one"));
    fs::remove((folder.path() + "/one") + "/can.run.json");
    CHECK(has(recheck((folder.path() + "/one")).output, "WRONG  can: the file 'can.run.json' is missing"));
  }
}

TEST_CASE("Two writers of one folder wait for each other", "[robust]") {
  const Folder folder;
  folder.write("one.detent", lamp("100 ms"));
  const std::string evidence = (folder.path() + "/ev");
  auto first = std::make_unique<cli::EvidenceFolder>(evidence);
  REQUIRE(first->open());
  const auto start = std::chrono::steady_clock::now();
  // It gives up after 10 s: whoever holds the folder may have been stopped by hand.
  const ProcessResult second = run_detent({"check", (folder.path() + "/one.detent"), "--evidence", evidence});
  CHECK(second.status == 2);
  CHECK(has(second.errors, "can't write to the folder"));
  CHECK(std::chrono::steady_clock::now() - start >= std::chrono::seconds(10));
  first.reset();
  CHECK(run_detent({"check", (folder.path() + "/one.detent"), "--evidence", evidence}).status == 0);
  CHECK_FALSE(fs::exists(evidence + "/unfinished.detent"));
}

}  // namespace detent::test
