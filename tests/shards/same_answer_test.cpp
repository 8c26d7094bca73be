// One run, and its shards joined: the same text, JSON and exit status. The yardstick is the program without
// shards.
#include "tests/cli/schema.hpp"
#include "tests/shards/sweep.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/design_generator.hpp"
#include "tests/support/seeds.hpp"

namespace detent::test {
namespace {

using nlohmann::json;

const std::vector<std::size_t> usual{1, 2, 3, 7};

std::string spec(const std::string& name) {
  return DETENT_SOURCE_DIR "/specs/" + name;
}

json schema(const std::string& name) {
  return json::parse(text_of(DETENT_SOURCE_DIR "/cli/" + name));
}

}  // namespace

TEST_CASE("faults in shards: the answer of one run", "[shards]") {
  check_same({"faults", spec("guards/one_channel.detent")}, usual);
  check_same({"faults", spec("guards/two_channel.detent")}, {3});
  check_same({"faults", spec("functions/hold_to_run.detent"), "--tolerance", "5 %"}, usual);
  check_same({"faults", spec("guards/one_channel.detent"), "--fault", "closed stuck pressed", "--fault",
              "running starts on"},
             {2, 7});
}

TEST_CASE("pairs of faults in shards: the answer of one run", "[shards]") {
  check_same({"faults", spec("guards/one_channel.detent"), "--pairs"}, usual);
  check_same({"faults", spec("functions/emergency_stop.detent"), "--pairs"}, {3});
}

TEST_CASE("tunables in shards: the answer of one run", "[shards]") {
  check_same({"tune", spec("horn/horn.detent")}, usual);
  check_same({"tune", spec("horn/horn.detent"), "--together", "warning", "half", "--step", "300 ms"}, usual);
}

TEST_CASE("many designs in shards: the answer of one run", "[shards]") {
  std::vector<std::string> words{"check"};
  for (const char* name : {"functions/emergency_stop.detent", "mistakes/reset_starts.detent",
                           "functions/hold_to_run.detent", "functions/two_hand_type_1.detent"}) {
    words.push_back(spec(name));
  }
  check_same(words, usual);
  words.insert(words.end(), {"--within", "40 ticks"});
  check_same(words, {2});
  check_same({"check", spec("mistakes/reset_starts.detent"), "--claim", "start_is_meant"}, {1, 3});
}

TEST_CASE("a design that is wrong is told among the others, whoever checks it", "[shards]") {
  const Folder folder;
  const std::string wrong = folder.write("wrong.detent", "tick 10 ms\nbutton go\nclaim x: never og\n");
  const std::string none = folder.path() + "/none.detent";
  const std::string odd = folder.write("odd.detent", "tick 10 ms // \xff\xfe\n");
  check_same({"check", spec("functions/hold_to_run.detent"), wrong, none, odd}, {1, 2, 7});
}

TEST_CASE("what a design includes goes with it", "[shards]") {
  const Folder folder;
  std::vector<std::string> files;
  {
    const Folder gone;
    const std::string design = gone.write("blocks.detent", text_of(spec("functions/hold_to_run.detent")));
    files = write_shards(folder, {"check", design, spec("functions/iec_blocks.detent")}, 2);
  }
  CHECK(merged(files).status == 0);  // one of the designs is no longer there
}

TEST_CASE("shards are as laid down", "[shards]") {
  const Folder folder;
  const json form = schema("shard.schema.json");
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"faults", spec("guards/one_channel.detent"), "--pairs"},
        {"tune", spec("horn/horn.detent"), "--only", "half"},
        {"check", spec("mistakes/reset_starts.detent"), spec("functions/hold_to_run.detent")}}) {
    for (const std::string& file : write_shards(folder, words, 2)) {
      const auto complaints = schema_complaints(form, json::parse(text_of(file)));
      INFO(words.front() << ": " << (complaints.empty() ? "" : complaints.front()));
      CHECK(complaints.empty());
    }
  }
}

TEST_CASE("many designs: JSON as laid down, and the number of each kind", "[shards]") {
  const std::vector<std::string> words{"check", spec("mistakes/reset_starts.detent"),
                                       spec("functions/hold_to_run.detent")};
  const ProcessResult text = run_detent(words);
  CHECK(text.status == 1);
  CHECK(text.output.find("2 designs: 1 of which every claim holds, 1 with a claim refuted") !=
        std::string::npos);
  std::vector<std::string> wanted = words;
  wanted.insert(wanted.end(), {"--format", "json"});
  const json all = json::parse(run_detent(wanted).output);
  CHECK(schema_complaints(schema("checks.schema.json"), all).empty());
  REQUIRE(all["designs"].size() == 2);
  for (std::size_t index = 0; index < 2; ++index) {
    CHECK(schema_complaints(schema("check.schema.json"), all["designs"][index]).empty());
    const ProcessResult alone = run_detent({"check", words[index + 1], "--format", "json"});
    CHECK(comparable(all["designs"][index].dump()) == comparable(alone.output));
  }
}

TEST_CASE("how a sweep is split hangs on neither threads nor time", "[shards]") {
  const std::string design = spec("guards/one_channel.detent");
  const auto without_cost = [](const ProcessResult& result) {
    json shard = json::parse(result.output);
    shard.erase("seal");
    shard["part"].erase("cost");
    return shard.dump(1);
  };
  CHECK(run_detent({"faults", design, "--shard", "2/3"}).status == 0);  // whatever falls
  CHECK(without_cost(run_detent({"faults", design, "--shard", "2/3", "--jobs", "1"})) ==
        without_cost(run_detent({"faults", design, "--shard", "2/3", "--jobs", "3"})));
}

// Random designs have tunables, assumptions and claims of every form; most break some claim, and some have no
// run.
TEST_CASE("random designs in shards: the answer of one run", "[shards][random]") {
  const Seeds wanted = seeds(4);
  for (std::uint64_t seed = wanted.first; seed < wanted.first + wanted.count; ++seed) {
    const Folder folder;
    const std::string design = folder.write("design.detent", random_design(seed));
    INFO("seed " << seed << "\n" << random_design(seed));
    const std::size_t of = 2 + seed % 3;
    check_same({"check", design, spec("functions/hold_to_run.detent")}, {of});
    if (run_detent({"check", design}).status == 2) continue;  // no run at all: nothing to break or tune
    check_same({"faults", design}, {of});
    if (random_design(seed).find("\ntunable") != std::string::npos) check_same({"tune", design}, {of});
  }
}

}  // namespace detent::test
