// Shards that don't fit together, or are not what was written: each is named, with what to do, exit status 2;
// and no change of a file ends in anything but an answer or such a message.
#include <functional>

#include "cli/shard/shard.hpp"
#include "cli/shard/shard_file.hpp"
#include "tests/shards/sweep.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chance.hpp"
#include "tests/support/says.hpp"

namespace detent::test {
namespace {

using cli::read_shard;
using cli::Shard;
using nlohmann::ordered_json;

const std::string design = DETENT_SOURCE_DIR "/specs/guards/one_channel.detent";
const std::string horn = DETENT_SOURCE_DIR "/specs/horn/horn.detent";

void refused(const std::vector<std::string>& files, const std::string& words) {
  const ProcessResult result = merged(files);
  INFO(result.errors);
  CHECK(result.status == 2);
  CHECK(result.output.empty());
  CHECK(result.errors.find(words) != std::string::npos);
  CHECK(result.errors.find("  mend: ") != std::string::npos);
}

}  // namespace

TEST_CASE("every case has one shard, whatever N is", "[shards]") {
  for (std::size_t of = 1; of <= 12; ++of) {
    for (const std::size_t count : {0U, 1U, 5U, 12U, 100U}) {
      std::size_t next = 0;
      for (std::size_t number = 1; number <= of; ++number) {
        const auto [first, last] = Shard{number, of}.stretch(count);
        CHECK(first == next);
        CHECK(last >= first);
        CHECK(last - first <= count / of + 1);
        next = last;
      }
      CHECK(next == count);
      for (std::size_t index = 0; index < count; ++index) {
        std::size_t owners = 0;
        for (std::size_t number = 1; number <= of; ++number) owners += Shard{number, of}.has(index) ? 1 : 0;
        CHECK(owners == 1);
      }
    }
  }
}

TEST_CASE("--shard: what is no shard is refused with a mend", "[shards]") {
  CHECK(read_shard("3/8").value == Shard{3, 8});
  CHECK(read_shard("1/1").value == Shard{1, 1});
  for (const char* text : {"",
                           "/",
                           "3",
                           "3/",
                           "/8",
                           "0/8",
                           "9/8",
                           "3/0",
                           "-1/8",
                           "+1/8",
                           "1/ 8",
                           " 1/8",
                           "1/8 ",
                           "1//8",
                           "1/8/8",
                           "1.0/8",
                           "x/y",
                           "1/100001",
                           "99999999999999999999/8",
                           "1/99999999999999999999"}) {
    INFO(text);
    CHECK_FALSE(read_shard(text).value.has_value());
    CHECK_FALSE(read_shard(text).problem.empty());
    CHECK_FALSE(read_shard(text).mend.empty());
  }
  const ProcessResult result = run_detent({"faults", design, "--shard", "9/8"});
  CHECK(result.status == 2);
  CHECK(result.errors.find("--shard: '9/8': of 8 there is no shard 9") != std::string::npos);
}

TEST_CASE("options of the page, and of one design, are refused where there is none", "[shards]") {
  CHECK(run_detent({"faults", design, "--shard", "1/2", "--all-runs"}).status == 2);
  CHECK(run_detent({"tune", horn, "--shard", "1/2", "--statistics"}).status == 2);
  CHECK(run_detent({"check", design, "--shard", "1/2", "--evidence", "x"}).status == 2);
  CHECK(run_detent({"check", design, horn, "--claim", "x"}).status == 2);
  CHECK(run_detent({"check", design, design}).errors.find("is named twice") != std::string::npos);
  CHECK(run_detent({"check", design, "--within", "20", "s"}).errors.find("needs quotes") !=
        std::string::npos);
}

TEST_CASE("a shard that is lost, there twice, or of another run is named", "[shards]") {
  const Folder folder, other;
  const std::vector<std::string> words{
      "faults", design, "--fault", "closed stuck pressed", "--fault", "start stuck pressed"};
  const std::vector<std::string> files = write_shards(folder, words, 4);
  refused({files[0], files[3]}, "of 4 shards 2 are missing: 2/4 and 3/4");
  refused({files[0], files[1], files[3]}, "of 4 shards 1 is missing: 3/4");
  refused({files[0], files[1], files[2], files[3], files[1]}, "shard 2/4 is there twice");
  refused({files[0], files[1], files[2], folder.path() + "/none.json"}, "does not exist");

  const std::vector<std::string> three = write_shards(other, words, 3);
  refused({files[0], three[1]}, "one is of 4 shards, the other of 3");
  std::vector<std::string> looser = words;
  looser.insert(looser.end(), {"--tolerance", "20 %"});
  refused({files[0], write_shards(other, looser, 4)[1]}, "their options differ");
  refused({files[0], write_shards(other, {"tune", horn, "--only", "half"}, 4)[1]},
          "shards of different runs");

  const std::string copy = other.write("copy.detent", text_of(design));
  std::vector<std::string> moved = words;
  moved[1] = copy;
  const std::string before = text_of(write_shards(other, moved, 2)[0]);
  const std::string first = other.write("first.json", before);
  other.write("copy.detent", text_of(design) + "// one line more\n");
  refused({first, write_shards(other, moved, 2)[1]}, "has another text in one than in the other");
}

TEST_CASE("the answer is not written over what it is made from", "[shards]") {
  const Folder folder;
  const std::vector<std::string> files =
      write_shards(folder, {"faults", design, "--fault", "closed stuck pressed"}, 2);
  const std::string before = text_of(files[0]);
  check_refused({"merge", files[0], files[1], "-o", files[0]}, "is a shard itself", "name another file");
  CHECK(text_of(files[0]) == before);
  const std::string kept = folder.write("kept.detent", "tick 20 ms\n");
  check_refused({"merge", files[0], files[1], "-o", kept}, "designs are never written over",
                "name another file");
  CHECK(text_of(kept) == "tick 20 ms\n");
  const std::string plain = folder.write("boat.txt", text_of(design));
  const std::string shard = folder.write("shard.json", run_detent({"check", plain, "--shard", "1/1"}).output);
  check_refused({"merge", shard, "-o", plain}, "a file of the design", "name another file");
  CHECK(text_of(plain) == text_of(design));
}

TEST_CASE("a shard that is to be another form is refused, and merge writes the form", "[shards]") {
  const Folder folder;
  check_refused({"check", design, horn, "--shard", "1/2", "--format", "junit"}, "never junit", "at merge");
  const std::vector<std::string> files = write_shards(folder, {"check", design, horn}, 2);
  CHECK(has(run_detent({"merge", files[0], files[1], "--format", "sarif"}).output, "\"2.1.0\""));
}

// The sum over a shard: the check value that is published for CRC-32 (IEEE 802.3), 0xCBF43926 for "123456789"
// (from memory; the same by Python's zlib).
TEST_CASE("the seal is the sum that is laid down", "[shards]") {
  CHECK(cli::checksum("123456789") == "cbf43926");
}

TEST_CASE("a shard of another version is refused", "[shards]") {
  const Folder folder;
  const std::string shard = text_of(write_shards(folder, {"tune", horn, "--only", "half"}, 1)[0]);
  for (const char* name : {"detent_version", "solver_version", "shard_version"}) {
    const std::string file =
        folder.write("other.json", resealed(shard, [&](ordered_json& json) { json[name] = "0.0.0"; }));
    refused({file}, "version");
  }
}

TEST_CASE("a shard that is cut, mangled or none is named", "[shards]") {
  const Folder folder;
  const std::string file = write_shards(folder, {"tune", horn, "--only", "half"}, 1)[0];
  const std::string text = text_of(file);
  refused({folder.write("empty.json", "")}, "it is empty");
  refused({folder.write("cut.json", text.substr(0, text.size() / 2))}, "it is cut or damaged");
  refused({folder.write("noise.json", std::string(1000, '\x80'))}, "it is cut or damaged");
  refused({folder.write("other.json", "{\"schema_version\": 1}")}, "it is JSON, but no shard");
  refused({folder.write("list.json", "[]")}, "it is JSON, but no shard");
  refused({folder.write("twice.json", "{\"seal\": 1, \"seal\": 2}")}, "stands twice");
  refused({folder.path()}, "is a directory");
  const std::size_t holds = text.find("\"holds\"");
  REQUIRE(holds != std::string::npos);
  std::string lie = text;
  lie.replace(holds, 7, "\"fails\"");
  refused({folder.write("lie.json", lie)}, "it is damaged, or was changed");
}

TEST_CASE("what is in a shard is not believed because the seal fits", "[shards]") {
  const Folder folder;
  const std::string faults = text_of(write_shards(
      folder, {"faults", design, "--fault", "running stuck on", "--fault", "closed stuck pressed"}, 1)[0]);
  const auto changed = [&](const std::function<void(ordered_json&)>& change, const std::string& words) {
    refused({folder.write("changed.json", resealed(faults, change))}, words);
  };
  const auto verdict = [](ordered_json& json) -> ordered_json& {
    return json["part"]["singles"][0]["verdicts"][0];
  };
  changed([&](ordered_json& json) { verdict(json)["outcome"] = "proven"; }, "there is no 'proven'");
  changed([&](ordered_json& json) { verdict(json)["outcome"] = "proved"; }, "a run that shows nothing");
  changed([&](ordered_json& json) { verdict(json)["outcome"] = 1; }, "1 is no text");
  changed([&](ordered_json& json) { verdict(json)["ticks"] = -1; }, "whole number");
  changed([&](ordered_json& json) { verdict(json)["ticks"] = 1e300; }, "whole number");
  changed([&](ordered_json& json) { verdict(json)["ticks"] = 18446744073709551615U; }, "whole number");
  changed([&](ordered_json& json) { verdict(json)["claim"] = "no_such"; },
          "the design has no claim 'no_such'");
  changed([&](ordered_json& json) { verdict(json).erase("run"); }, "has no run to show it");
  changed([&](ordered_json& json) { verdict(json)["run"] = ordered_json::array(); }, "a run without a tick");
  changed([&](ordered_json& json) { verdict(json)["run"][0][1] = 7; }, "whole number from 0 to 1");
  changed([&](ordered_json& json) { verdict(json)["run"] = {{100000000000, 0, 0, 0}}; }, "whole number");
  changed([&](ordered_json& json) { json["part"]["singles"].erase(0); }, "is not the fault in turn");
  changed([&](ordered_json& json) { json["part"]["singles"].erase(1); }, "a fault is missing");
  changed([&](ordered_json& json) { json["part"]["singles"] = 3; }, "is no list");
  changed([&](ordered_json& json) { json["part"]["cost"]["seconds"] = nullptr; }, "is no number of seconds");
  changed([&](ordered_json& json) { json["part"]["cost"]["seconds"] = -1; }, "is no number of seconds");
  changed([&](ordered_json& json) { json["part"]["more"] = 1; }, "which does not belong there");
  changed([&](ordered_json& json) { json["shard"]["number"] = 0; }, "whole number from 1");
  changed([&](ordered_json& json) { json["files"] = ordered_json::array(); }, "has errors");
  changed([&](ordered_json& json) { json["command"] = "gaps"; }, "has no shards");
  changed([&](ordered_json& json) { json["options"]["pairs"] = "yes"; }, "is no true or false");
}

TEST_CASE("whatever happens to a file, merge answers or names what is wrong", "[shards]") {
  const Folder folder;
  const std::string shard = text_of(write_shards(folder, {"tune", horn, "--only", "half"}, 1)[0]);
  Chance chance(3);
  for (int round = 0; round < 40; ++round) {
    // A member or an item anywhere becomes something else, and the seal is made to fit.
    const std::string text = resealed(shard, [&](ordered_json& json) {
      ordered_json* node = &json;
      while (node->is_structured() && !node->empty() && chance.below(5) != 0) {
        auto at = node->begin();
        std::advance(at, static_cast<std::ptrdiff_t>(chance.below(node->size())));
        node = &*at;
      }
      const std::vector<ordered_json> others{
          nullptr, -1, 1e308, "", ordered_json::array(), ordered_json::object(), true};
      *node = others[chance.below(others.size())];
      if (!json.is_object()) json = ordered_json::object();
    });
    const ProcessResult result = merged({folder.write("any.json", text)});
    INFO(text.substr(0, 2000) << "\n" << result.errors);
    CHECK((result.status == 0 || result.status == 2));
    CHECK((result.status == 0) == result.errors.empty());
  }
}

TEST_CASE("what a shard left undecided is undecided in the answer", "[shards]") {
  const Folder folder;
  const std::string slow = folder.write("slow.detent", text_of(design));
  std::vector<std::string> files;
  for (const char* shard : {"1/2", "2/2"}) {
    // No claim can be decided in a millisecond for all of it.
    const ProcessResult result = run_detent({"faults", slow, "--total-timeout", "1 ms", "--shard", shard});
    CHECK(result.status == 3);
    files.push_back(folder.write(std::string(shard, 1) + ".json", result.output));
  }
  CHECK(merged(files).status == 3);
}

}  // namespace detent::test
